// One message as the stand-in keeps it, with what a test wants to know and Discord does not tell: files, edits, who sees it.

import { MessageFlags, type APIMessage } from 'discord.js';
import type { Upload } from './body.js';

/** A component of any kind and depth, as JSON. */
export interface Part {
  readonly type: number;
  id?: number;
  readonly custom_id?: string;
  readonly label?: string;
  readonly style?: number;
  readonly disabled?: boolean;
  readonly content?: string;
  readonly placeholder?: string;
  readonly required?: boolean;
  readonly options?: readonly { readonly label: string; readonly value: string; readonly description?: string }[];
  readonly min_values?: number;
  readonly max_values?: number;
  readonly min_length?: number;
  readonly max_length?: number;
  readonly value?: string;
  readonly components?: readonly Part[];
  readonly component?: Part;
  readonly accessory?: Part;
}

/** The components and everything inside them, in reading order. */
export function everyPart(parts: readonly unknown[] | null | undefined): Part[] {
  return ((parts ?? []) as Part[]).flatMap((part) => [
    part,
    ...everyPart(part.components),
    ...everyPart(part.component === undefined ? [] : [part.component]),
    ...everyPart(part.accessory === undefined ? [] : [part.accessory]),
  ]);
}

export class Said {
  /** Every content it has had, the first one first. */
  readonly versions: string[] = [];
  removed = false;
  files: Upload[] = [];

  constructor(
    public api: APIMessage,
    /** The bot's nonce; undefined where there was none. */
    readonly nonce: string | undefined,
    /** Who alone sees it; undefined: everybody in the channel. */
    readonly onlyFor: string | undefined,
  ) {
    this.versions.push(api.content);
  }

  get id(): string {
    return this.api.id;
  }

  get content(): string {
    return this.api.content;
  }

  get authorId(): string {
    return this.api.author.id;
  }

  get parts(): Part[] {
    return everyPart(this.api.components);
  }

  get buttons(): Part[] {
    return this.parts.filter((p) => p.type === 2);
  }

  get selects(): Part[] {
    return this.parts.filter((p) => [3, 5, 6, 7, 8].includes(p.type));
  }

  get embeds(): APIMessage['embeds'] {
    return this.api.embeds;
  }

  /** Content, embeds and shown texts, for a test that looks for words anywhere. */
  get words(): string {
    const embedded = this.api.embeds.flatMap((e) => [
      e.title,
      e.description,
      ...(e.fields ?? []).flatMap((f) => [f.name, f.value]),
      e.footer?.text,
    ]);
    return [this.content, ...embedded, ...this.parts.map((p) => p.content)].filter((w) => w !== undefined).join('\n');
  }

  /** A deferred answer that is not there yet. */
  get thinking(): boolean {
    return ((this.api.flags ?? 0) & MessageFlags.Loading) !== 0;
  }
}
