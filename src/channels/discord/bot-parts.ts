/** What every part of the bot works with. */
import type { REST } from 'discord.js';
import type { Delivery } from './deliver.js';
import type { Front } from './front.js';
import type { People } from './people.js';
import type { Taken } from './take.js';
import type { Work } from './work.js';

export interface Bot {
  readonly front: Front;
  readonly rest: REST;
  readonly people: People;
  readonly delivery: Delivery;
  readonly work: Work;
  readonly taken: Taken;
  /** the bot's own user */
  readonly self: string;
  readonly application: string;
  /** whether Discord shows it all messages, or only those that speak to it */
  readonly reads: boolean;
}
