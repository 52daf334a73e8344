/** What is said to a victim: talks of every kind of message, each with a danger in it, so that pages are written too. */
import type { Message } from './victim.js';

/** Messages in one conversation, before the next one is opened. */
const LENGTH = 24;
const DANGER_AT = 9;

const homeowner = { id: 'u1', role: 'homeowner' } as const;
const technician = { id: 'u2', role: 'technician' } as const;

/** The n-th message of one teller. Every third is said in a conversation that all tellers share. */
export function messageOf(teller: string, n: number): Message {
  const place = Math.floor(n / LENGTH);
  const head = { id: `${teller}${n}`, conversation: `${n % 3 === 2 ? 'shared' : teller}-${place}` };
  const within = n % LENGTH;
  // the first text of a process costs it a while: few of them, so that most kills meet a process at work
  if (within === DANGER_AT) return { ...head, from: homeowner, said: { text: 'there is a burning smell' } };
  if (within === DANGER_AT + 2) return { ...head, from: homeowner, said: { text: 'a person please' } };
  const sensor = { part: 'defrost-sensor', quantity: 'resistance', value: 5 + (n % 9), unit: 'kohm', atC: n % 25 };
  const thermostat = { part: 'defrost-thermostat', quantity: 'continuity', value: 'closed', atC: -20 + (n % 7) };
  const kinds: readonly Pick<Message, 'from' | 'said'>[] = [
    {
      from: homeowner,
      said: { answer: { finding: 'frost.location', value: ['freezer-back-wall', 'freezer-floor'] } },
    },
    { from: technician, said: { reading: sensor } },
    { from: homeowner, said: { answer: { finding: 'frost.kind', value: n % 2 ? 'soft-snow' : 'hard-white' } } },
    { from: technician, said: { answer: { finding: 'unit.defrost-control', value: 'electronic-control' } } },
    { from: homeowner, said: { answer: { finding: 'drain.condition', value: 'not-sure' } } },
    { from: technician, said: { reading: thermostat } },
  ];
  const kind = kinds[n % kinds.length];
  if (!kind) throw new Error('there is a message for every number');
  return { ...head, ...kind };
}
