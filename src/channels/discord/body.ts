/** What a post is, as it waits in the outbox: words, buttons, pictures as drawings, pages as text, photos by reference. */
import { z } from 'zod';
import type { APIActionRowComponent, APIComponentInMessageActionRow } from 'discord.js';

const file = z.strictObject({
  name: z.string(),
  alt: z.string().nullable(),
  /** a drawing that becomes a PNG, or the text of a page */
  svg: z.string().optional(),
  text: z.string().optional(),
});
export type PostFile = z.output<typeof file>;

const message = z.strictObject({
  content: z.string(),
  rows: z.array(z.custom<APIActionRowComponent<APIComponentInMessageActionRow>>()),
  files: z.array(file),
  /** channel/message/attachment */
  photos: z.array(z.string()),
});
export type MessageBody = z.output<typeof message>;

const thread = z.strictObject({ name: z.string() });
/** The controls of an earlier post are taken away, and what was answered is said below it. */
const settle = z.strictObject({ post: z.string(), chosen: z.string().nullable() });

export const readMessage = (body: string): MessageBody => message.parse(JSON.parse(body));
export const readThread = (body: string): z.output<typeof thread> => thread.parse(JSON.parse(body));
export const readSettle = (body: string): z.output<typeof settle> => settle.parse(JSON.parse(body));

export const plain = (content: string): MessageBody => ({ content, rows: [], files: [], photos: [] });

/** What the latest post of a room asks, kept beside it in the store. */
const asked = z
  .strictObject({
    finding: z.string().nullable(),
    reading: z.string().nullable(),
    text: z.string(),
    choices: z.array(z.strictObject({ value: z.string(), label: z.string() })),
    many: z.boolean(),
  })
  .nullable();
export type Asked = z.output<typeof asked>;
export const readAsked = (ask: string | null): Asked => (ask === null ? null : asked.parse(JSON.parse(ask)));
