// The package need not be installed for the import to be refused.
export const bot = async (): Promise<unknown> => import('discord.js');
