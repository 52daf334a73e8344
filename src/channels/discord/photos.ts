/** Photos on their way to the technicians: fetched where the caller posted them, handed on, never kept. */
import { Routes, type APIMessage, type RawFile, type REST } from 'discord.js';

/** Discord's limits are 10 MiB a file and 25 MiB a request; room is left for the pages. */
const MOST_BYTES = 9 * 1024 * 1024;
const MOST_TOGETHER = 20 * 1024 * 1024;
const MOST_PHOTOS = 6;
const PATIENCE_MS = 10_000;

export const refOf = (channel: string, message: string, attachment: string): string =>
  `${channel}/${message}/${attachment}`;

/** @returns the photos that could be had, and a link to the message of each that could not */
export async function photosOf(
  { rest, front }: { readonly rest: REST; readonly front: { readonly guild: string } },
  refs: readonly string[],
): Promise<{ readonly files: RawFile[]; readonly links: string[] }> {
  const files: RawFile[] = [];
  const links = new Set<string>();
  let bytes = 0;
  for (const ref of refs.slice(-MOST_PHOTOS)) {
    const [channel = '', message = '', attachment = ''] = ref.split('/');
    const link = `https://discord.com/channels/${front.guild}/${channel}/${message}`;
    try {
      const { attachments } = (await rest.get(Routes.channelMessage(channel, message))) as APIMessage;
      const photo = attachments.find((a) => a.id === attachment);
      if (!photo) continue;
      if (photo.size > MOST_BYTES || bytes + photo.size > MOST_TOGETHER) {
        links.add(link);
        continue;
      }
      const response = await fetch(photo.url, { signal: AbortSignal.timeout(PATIENCE_MS) });
      if (!response.ok) throw new Error(`the photo could not be fetched: ${response.status}`);
      const data = Buffer.from(await response.arrayBuffer());
      bytes += data.length;
      files.push({ name: `photo-${files.length + 1}-${photo.filename}`, data });
    } catch {
      links.add(link);
    }
  }
  return { files, links: [...links] };
}
