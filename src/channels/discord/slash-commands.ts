/** The commands as Discord shows them. */
import {
  ApplicationCommandOptionType,
  ApplicationCommandType,
  ApplicationIntegrationType,
  InteractionContextType,
  type RESTPutAPIApplicationCommandsJSONBody,
} from 'discord.js';
import type { Front } from './front.js';
import { short } from './question.js';

const MOST_CHOICES = 25;
const LONGEST = 100;

export function slashCommands({
  say,
  knowledge,
}: Pick<Front, 'say' | 'knowledge'>): RESTPutAPIApplicationCommandsJSONBody {
  const t = (key: string): string => short(say('homeowner', key), LONGEST);
  const option = (command: string, name: string, most: number, required = false) => ({
    type: ApplicationCommandOptionType.String as const,
    name,
    description: t(`discord.command.${command}.${name}`),
    required,
    min_length: 1,
    max_length: most,
  });
  const everywhere = {
    type: ApplicationCommandType.ChatInput as const,
    contexts: [InteractionContextType.Guild, InteractionContextType.BotDM],
    integration_types: [ApplicationIntegrationType.GuildInstall],
  };
  const parts = [...knowledge.readings.values()]
    .slice(0, MOST_CHOICES)
    .map((r) => ({ name: short(r.name.technician, LONGEST), value: r.id }));
  return [
    { ...everywhere, name: 'case', description: t('discord.command.case'), options: [option('case', 'problem', 4000)] },
    { ...everywhere, name: 'resume', description: t('discord.command.resume'), options: [option('resume', 'code', 8)] },
    {
      ...everywhere,
      name: 'reading',
      description: t('discord.command.reading'),
      options: [
        {
          type: ApplicationCommandOptionType.String,
          name: 'part',
          description: t('discord.command.reading.part'),
          required: true,
          choices: parts,
        },
        ...['value', 'at', 'sheet', 'rating'].map((name) => option('reading', name, 60)),
      ],
    },
    {
      ...everywhere,
      name: 'summary',
      description: t('discord.command.summary'),
      options: [option('summary', 'code', 8)],
    },
  ];
}
