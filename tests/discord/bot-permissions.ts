/** What the bot may do on the stand-in's server: as much as README asks for, and no more. */
export const BOT_PERMISSIONS = [
  'ViewChannel',
  'SendMessages',
  'AttachFiles',
  'ReadMessageHistory',
  'CreatePrivateThreads',
  'SendMessagesInThreads',
] as const;
