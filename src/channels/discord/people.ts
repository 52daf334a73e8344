/** Who somebody is in a case: their role by the server's roles, and the name by which the case and the desk know them. */
import { Routes, type APIGuildMember, type APIUser, type REST } from 'discord.js';
import type { Role } from '../../knowledge/facts.js';
import type { Incoming } from '../../message/incoming.js';
import { roleOf, type Front } from './front.js';

export interface Person {
  /** Discord's id */
  readonly id: string;
  readonly role: Role;
  readonly from: Incoming['from'];
}

interface Known {
  readonly roles: readonly string[];
  readonly until: number;
}

const REMEMBERED_MS = 60_000;
const MOST_REMEMBERED = 1000;
const LONGEST_NAME = 60;

export class People {
  private readonly remembered = new Map<string, Known>();

  constructor(
    private readonly front: Front,
    private readonly rest: REST,
  ) {}

  /** @param roles the roles on our server, where the event tells them; else they are asked for */
  async who(user: Pick<APIUser, 'id' | 'username' | 'global_name'>, roles: readonly string[] | null): Promise<Person> {
    return this.person(user, roles ?? (await this.rolesOf(user.id)));
  }

  /**
   * A caller is known by an id that tells nobody anything; a technician by the name that callers and colleagues read,
   * which stays the first one seen, so that nobody loses a claimed case by changing it.
   */
  person(
    { id, username, global_name: shown }: Pick<APIUser, 'id' | 'username' | 'global_name'>,
    roles: readonly string[],
  ): Person {
    const role = roleOf(this.front, roles);
    const name = `${shown ?? username} (@${username})`.slice(0, LONGEST_NAME);
    return { id, role, from: { id: role === 'homeowner' ? id : this.front.rooms.nameOf(id, name), role } };
  }

  private async rolesOf(id: string): Promise<readonly string[]> {
    const now = Date.now();
    const known = this.remembered.get(id);
    if (known && known.until > now) return known.roles;
    let roles: readonly string[] = [];
    try {
      roles = ((await this.rest.get(Routes.guildMember(this.front.guild, id))) as APIGuildMember).roles;
    } catch (error) {
      // who is not on the server, or cannot be asked about now, is treated with the most care
      this.front.log.info({ err: error }, 'the roles of a person are not known');
    }
    if (this.remembered.size >= MOST_REMEMBERED) this.remembered.clear();
    this.remembered.set(id, { roles, until: now + REMEMBERED_MS });
    return roles;
  }
}
