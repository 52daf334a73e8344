/** Whose words count in a case: its own person's, and those of a technician of the server who joins. */
import type { Room } from '../../message/room.js';
import type { Person } from './people.js';

export const maySpeak = (room: Room, person: Person): boolean =>
  person.id === room.owner || person.role !== 'homeowner';
