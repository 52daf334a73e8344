// The routes of application commands, for one guild and for all.

import type { APIApplicationCommand } from 'discord.js';
import { commandFaults } from './hand-rules.js';
import type { Hub, Route } from './hub.js';
import { missingAccess, unknownCommand } from './refusals.js';

function scopeOf(params: Readonly<Record<string, string>>, hub: Hub): string {
  if (params['application'] !== hub.applicationId) throw missingAccess();
  return params['guild'] === undefined ? 'global' : hub.world.guild(params['guild']).id;
}

/** A command as it is kept: what was sent, and what Discord adds. One of the same name and type keeps its id. */
function kept(wish: Record<string, unknown>, scope: string, hub: Hub): APIApplicationCommand {
  const type = wish['type'] ?? 1;
  const earlier = hub.commands.get(scope)?.find((c) => c.name === wish['name'] && c.type === type);
  return {
    default_member_permissions: null,
    nsfw: false,
    description: '',
    name_localizations: null,
    description_localizations: null,
    ...(scope === 'global' ? { contexts: null, integration_types: [0] } : { guild_id: scope }),
    ...wish,
    type,
    id: earlier?.id ?? hub.ids.next(),
    application_id: hub.applicationId,
    version: hub.ids.next(),
  } as unknown as APIApplicationCommand;
}

function routesAt(path: string): Route[] {
  return [
    {
      name: `GET ${path}`,
      schema: false,
      handle: ({ params }, hub) => ({ status: 200, body: hub.commands.get(scopeOf(params, hub)) ?? [] }),
    },
    {
      name: `PUT ${path}`,
      schema: 'CommandsPut',
      rules: commandFaults,
      handle({ params, body }, hub) {
        const scope = scopeOf(params, hub);
        const all = (body as unknown as Record<string, unknown>[]).map((c) => kept(c, scope, hub));
        hub.commands.set(scope, all);
        return { status: 200, body: all };
      },
    },
    {
      name: `POST ${path}`,
      schema: 'ApplicationCommandCreateRequest',
      rules: commandFaults,
      handle({ params, body }, hub) {
        const scope = scopeOf(params, hub);
        const made = kept(body, scope, hub);
        const others = (hub.commands.get(scope) ?? []).filter((c) => c.id !== made.id);
        hub.commands.set(scope, [...others, made]);
        return { status: others.length < (hub.commands.get(scope)?.length ?? 0) ? 201 : 200, body: made };
      },
    },
    {
      name: `DELETE ${path}/:command`,
      schema: false,
      handle({ params }, hub) {
        const scope = scopeOf(params, hub);
        const all = hub.commands.get(scope) ?? [];
        if (!all.some((c) => c.id === params['command'])) throw unknownCommand();
        const left = all.filter((c) => c.id !== params['command']);
        hub.commands.set(scope, left);
        return { status: 204 };
      },
    },
  ];
}

export const registering: readonly Route[] = [
  ...routesAt('/applications/:application/commands'),
  ...routesAt('/applications/:application/guilds/:guild/commands'),
];
