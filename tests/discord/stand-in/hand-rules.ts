// Rules that Discord documents and its description lacks: lengths, sums, duplicates, names. They judge a body alone,
// never what exists.

import { MessageFlags } from 'discord.js';
import type { Upload } from './body.js';
import { describedFaults } from './described.js';
import type { FormFault } from './refusals.js';
import { everyPart, type Part } from './said.js';

/** Documented: resources/message.mdx (content, embeds), components/reference.mdx (rows, custom_id). */
const CONTENT = 2000;
const EMBED_TOTAL = 6000;
const ROWS = 5;
const V2_PARTS = 40;
/** Documented: interactions/application-commands.mdx. */
const COMMAND_NAME = /^[-_'\p{L}\p{N}\p{Script=Devanagari}\p{Script=Thai}]{1,32}$/u;
const COMMAND_TOTAL = 8000;

const MESSAGE_KEYS = new Set(
  `content embeds allowed_mentions components flags attachments poll tts nonce enforce_nonce message_reference sticker_ids
   shared_client_theme username avatar_url thread_name applied_tags`.split(/\s+/),
);

interface MessageBody {
  readonly content?: string | null;
  readonly embeds?: readonly Embed[] | null;
  readonly components?: readonly Part[] | null;
  readonly flags?: number | null;
  readonly attachments?: readonly { readonly id: string | number }[] | null;
}

interface Embed {
  readonly title?: string;
  readonly description?: string;
  readonly fields?: readonly { readonly name: string; readonly value: string }[];
  readonly footer?: { readonly text: string };
  readonly author?: { readonly name: string };
}

const at = (path: readonly (string | number)[], code: string, message: string): FormFault => ({
  path: path.map(String),
  code,
  message,
});

/** The rules for a message that is made or edited. */
export function messageFaults(given: unknown, uploads: readonly Upload[]): FormFault[] {
  if (typeof given !== 'object' || given === null) return [];
  const body = given as MessageBody;
  const found: FormFault[] = [];
  for (const key of Object.keys(body)) {
    if (!MESSAGE_KEYS.has(key)) found.push(at([key], 'UNKNOWN_KEY', 'A message has no such key.'));
  }
  // Counted in code points.
  if (Array.from(body.content ?? '').length > CONTENT) {
    found.push(at(['content'], 'BASE_TYPE_MAX_LENGTH', `Must be ${CONTENT} or fewer in length.`));
  }
  if ((body.embeds ?? []).reduce((sum, e) => sum + embedLength(e), 0) > EMBED_TOTAL) {
    found.push(at(['embeds'], 'MAX_EMBED_SIZE_EXCEEDED', `Embed size exceeds maximum size of ${EMBED_TOTAL}`));
  }
  const newer = ((body.flags ?? 0) & MessageFlags.IsComponentsV2) !== 0;
  found.push(...rowFaults(body, newer), ...repeatedIds(body.components, ['components']));
  for (const [i, { id }] of (body.attachments ?? []).entries()) {
    const isNew = String(id).length < 17;
    if (isNew && !uploads.some((u) => u.key === String(id))) {
      found.push(at(['attachments', i, 'id'], 'ATTACHMENT_NOT_FOUND', `There is no files[${id}].`));
    }
  }
  return found;
}

function embedLength(embed: Embed): number {
  const texts = [embed.title, embed.description, embed.footer?.text, embed.author?.name];
  const fields = (embed.fields ?? []).flatMap((f) => [f.name, f.value]);
  return [...texts, ...fields].reduce((sum, text) => sum + (text?.length ?? 0), 0);
}

function rowFaults(body: MessageBody, newer: boolean): FormFault[] {
  const parts = body.components ?? [];
  const found: FormFault[] = [];
  if (newer) {
    if ((body.content ?? '') !== '' || (body.embeds ?? []).length > 0) {
      found.push(at(['content'], 'MESSAGE_CANNOT_USE_LEGACY_FIELDS_WITH_COMPONENTS_V2', 'Not beside components V2.'));
    }
    if (everyPart(parts).length > V2_PARTS) {
      found.push(at(['components'], 'BASE_TYPE_MAX_LENGTH', `Must be ${V2_PARTS} or fewer in all.`));
    }
  } else {
    if (parts.length > ROWS) {
      found.push(at(['components'], 'BASE_TYPE_MAX_LENGTH', `Must be ${ROWS} or fewer in length.`));
    }
    for (const [i, part] of parts.entries()) {
      if (part.type !== 1) found.push(at(['components', i, 'type'], 'UNION_TYPE_CHOICES', 'Must be one of (1).'));
    }
  }
  for (const [i, row] of parts.entries()) {
    const inside = row.type === 1 ? (row.components ?? []) : [];
    if (inside.length > 1 && inside.some((p) => p.type !== 2)) {
      found.push(at(['components', i, 'components'], 'COMPONENT_LAYOUT_WIDTH_EXCEEDED', 'One select fills a row.'));
    }
  }
  return found;
}

function repeatedIds(parts: readonly Part[] | null | undefined, path: readonly string[]): FormFault[] {
  const ids = everyPart(parts).flatMap((p) => p.custom_id ?? []);
  const twice = ids.filter((id, i) => ids.indexOf(id) !== i);
  return twice.map((id) =>
    at(path, 'COMPONENT_CUSTOM_ID_DUPLICATED', `Component custom id cannot be duplicated: ${id}`),
  );
}

/** The rules for an interaction callback: those of its message or its modal. */
export function callbackFaults(given: unknown, uploads: readonly Upload[]): FormFault[] {
  const body = given as { type?: number; data?: unknown };
  const inside = (faults: FormFault[]): FormFault[] =>
    faults.map((fault) => ({ ...fault, path: ['data', ...fault.path] }));
  if (body.type === 4 || body.type === 7) return inside(messageFaults(body.data, uploads));
  if (body.type !== 9) return [];
  const parts = (body.data as { components?: readonly Part[] } | undefined)?.components ?? [];
  const found = repeatedIds(parts, ['components']);
  if (parts.length < 1 || parts.length > 5) {
    found.push(at(['components'], 'BASE_TYPE_BAD_LENGTH', 'Must be between 1 and 5 in length.'));
  }
  return inside(found);
}

interface CommandBody {
  readonly type?: number;
  readonly name: string;
  readonly description?: string;
  readonly required?: boolean;
  readonly options?: readonly CommandBody[];
  readonly choices?: readonly { readonly name: string; readonly value: string | number }[];
}

/** The rules for commands that are registered, one or all. */
export function commandFaults(given: unknown): FormFault[] {
  if (!Array.isArray(given)) return oneCommand(given as CommandBody, []);
  const all = given as readonly CommandBody[];
  const found = all.flatMap((command, i) => oneCommand(command, [String(i)]));
  const names = all.map((c) => `${c.type ?? 1} ${c.name}`);
  for (const [i, name] of names.entries()) {
    if (names.indexOf(name) !== i) {
      found.push(at([i, 'name'], 'APPLICATION_COMMANDS_DUPLICATE_NAME', 'Application command names must be unique'));
    }
  }
  return found;
}

function oneCommand(command: CommandBody, path: readonly string[]): FormFault[] {
  // Commands on users and messages have names of free text.
  const free = command.type === 2 || command.type === 3;
  const found = free ? [] : nameFaults(command, path);
  if (commandLength(command) > COMMAND_TOTAL) {
    found.push(at([...path], 'APPLICATION_COMMAND_TOO_LARGE', `Must be ${COMMAND_TOTAL} or fewer characters in all.`));
  }
  return found;
}

function nameFaults(command: CommandBody, path: readonly string[]): FormFault[] {
  const found: FormFault[] = [];
  if (!COMMAND_NAME.test(command.name) || command.name !== command.name.toLowerCase()) {
    found.push(at([...path, 'name'], 'APPLICATION_COMMAND_INVALID_NAME', 'Command name is invalid'));
  }
  let optional = false;
  const names = (command.options ?? []).map((o) => o.name);
  for (const [i, option] of (command.options ?? []).entries()) {
    const here = [...path, 'options', String(i)];
    found.push(...nameFaults(option, here));
    if (names.indexOf(option.name) !== i) {
      found.push(at([...here, 'name'], 'APPLICATION_COMMAND_OPTIONS_NAME_ALREADY_EXISTS', 'Used already.'));
    }
    if (option.required === true && optional) {
      found.push(
        at([...here, 'required'], 'APPLICATION_COMMAND_OPTIONS_REQUIRED_INVALID', 'Required ones come first.'),
      );
    }
    optional ||= option.required !== true;
  }
  return found;
}

function commandLength(command: CommandBody): number {
  const own = command.name.length + (command.description?.length ?? 0);
  const choices = (command.choices ?? []).reduce((sum, c) => sum + c.name.length + String(c.value).length, 0);
  return (command.options ?? []).reduce((sum, o) => sum + commandLength(o), own + choices);
}

/** All that is wrong with a body: by the description, then by these rules where the shape allows to ask. */
export function formFaults(
  schema: string,
  rules: ((body: unknown, uploads: readonly Upload[]) => FormFault[]) | undefined,
  body: unknown,
  uploads: readonly Upload[],
): FormFault[] {
  const found = describedFaults(schema, body);
  if (found.some((f) => f.code.startsWith('SCHEMA_TYPE') || f.code === 'BASE_TYPE_REQUIRED')) return found;
  const paths = new Set(found.map((f) => f.path.join('/')));
  return [...found, ...(rules?.(body, uploads) ?? []).filter((f) => !paths.has(f.path.join('/')))];
}
