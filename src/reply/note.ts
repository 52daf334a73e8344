/** What happened in a case while a person was away, as a note in that person's words. */
import type { News } from '../case/events.js';
import type { Knowledge, Words } from '../knowledge/facts.js';
import type { Answer } from '../message/outgoing.js';
import { shownInLine } from '../message/shown.js';
import { faultName } from './names.js';
import { say, type Slots } from './say.js';

type Note = Answer['notes'][number];

/** Names and words that people wrote, so that none of them passes for a line of ours. */
const inLine = (slots: Slots): Slots =>
  Object.fromEntries(Object.entries(slots).map(([name, text]) => [name, shownInLine(String(text))]));

export function noteOf(knowledge: Knowledge, words: Words, event: News): Note {
  const note = (from: Note['from'], key: string, slots: Slots = {}): Note => ({
    at: event.at,
    from,
    text: say(knowledge, words, key, inLine(slots)),
  });
  // one who was erased has no name
  const who = ('by' in event && event.by) || say(knowledge, words, 'note.somebody');
  switch (event.type) {
    case 'claimed':
      return note('desk', 'note.claimed', { who });
    case 'desk-asked':
      return note('desk', 'note.asked', { who, text: event.text ?? '' });
    case 'handed-back':
      return note('desk', 'note.handed-back', { who });
    case 'hazard-cleared': {
      const name = knowledge.hazards.get(event.hazard)?.name[words] ?? event.hazard;
      return note('desk', 'note.cleared', { who, name });
    }
    case 'cause-confirmed': {
      const known = knowledge.faults.get(event.cause)?.concludable ?? false;
      const slots = { who, cause: faultName(knowledge, words, event.cause) };
      const closed = note('desk', known ? 'note.closed' : 'note.closed.unknown', slots);
      const fixed = event.fixed ? ` ${say(knowledge, words, 'note.closed.fixed', inLine({ text: event.fixed }))}` : '';
      return { ...closed, text: `${closed.text}${fixed}` };
    }
    case 'overdue':
      return note('desk', 'note.overdue');
    case 'followed-up':
      return note('follow-up', `note.follow-up.${event.about}`);
  }
}
