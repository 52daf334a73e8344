/** Everything that is kept of one case, for the people in it: to read, or as data. */
import type { CaseEvent } from '../case/events.js';
import { readingId, type CaseState } from '../case/state.js';
import { historyOf } from '../desk/history.js';
import { wordsFor, type Knowledge, type Words } from '../knowledge/facts.js';
import { noteOf } from '../reply/note.js';
import { factInWords, measuredInWords, nameOf } from '../reply/names.js';
import { say, type Slots } from '../reply/say.js';
import type { KeptMessage, KeptRows } from '../store/store.js';
import { doneLine, sayer } from './desk-words.js';
import type { Parts } from './parts.js';

export interface Exported {
  readonly caseId: string;
  readonly state: CaseState;
  readonly messages: readonly KeptMessage[];
  /** every fact, reading, question, photo reference, follow-up and act of the desk, in its order */
  readonly events: readonly CaseEvent[];
  readonly rows: KeptRows;
  /** pages and pictures beside the store */
  readonly files: readonly string[];
}

/** Null where no case has this code. */
export function exported({ store, files }: Pick<Parts, 'store' | 'files'>, caseId: string): Exported | null {
  const state = store.load(caseId);
  if (!state) return null;
  return {
    caseId,
    state,
    messages: store.messages(caseId),
    events: store.events(caseId),
    rows: store.rowsOf(caseId),
    files: files.of(caseId),
  };
}

export function exportToRead(knowledge: Knowledge, e: Exported): string {
  const reader = wordsFor(e.state.role);
  const words = (key: string, slots: Slots = {}): string => say(knowledge, reader, key, slots);
  const what = [
    words('export.case', { code: e.caseId, when: e.state.openedAt }),
    ...talkOf(knowledge, reader, e),
    ...kept(knowledge, reader, e).map(({ key, lines }) =>
      [words(key), ...lines.map((text) => words('bullet', { text }))].join('\n'),
    ),
  ];
  return `${what.join('\n\n')}\n`;
}

/** Messages, acts of the desk and questions of the case's own, in the order of their times. */
function talkOf(knowledge: Knowledge, reader: Words, { messages, events }: Exported): string[] {
  const parts = [
    ...messages.map((m) => ({ at: m.at, text: messageText(knowledge, reader, m) })),
    ...historyOf(events)
      // what a caller answered to the desk stands among the messages
      .filter((d) => d.what !== 'answered')
      .map((d) => ({ at: d.at, text: doneLine(sayer(knowledge), d) })),
    ...events.flatMap((e) =>
      e.type === 'followed-up'
        ? [
            {
              at: e.at,
              text: say(knowledge, reader, 'export.followed-up', {
                text: noteOf(knowledge, reader, e).text,
                when: e.at,
              }),
            },
          ]
        : [],
    ),
  ];
  return parts.sort((a, b) => Date.parse(a.at) - Date.parse(b.at)).map(({ text }) => text);
}

function messageText(knowledge: Knowledge, reader: Words, m: KeptMessage): string {
  const who = `${m.at}  ${m.role}${m.person ? ` ${m.person}` : ''}`;
  const said = `> ${saidText(knowledge, reader, m).replaceAll('\n', '\n> ')}`;
  return [`${who}\n${said}`, ...(m.answer ? [m.answer.reply] : [])].join('\n\n');
}

function saidText(knowledge: Knowledge, reader: Words, { said }: KeptMessage): string {
  if (said === null) return say(knowledge, reader, 'export.erased');
  switch (said.kind) {
    case 'text':
      return said.text;
    case 'answer':
      return `${said.finding}: ${[said.value].flat().join(', ')}`;
    case 'reading':
      return JSON.stringify(said.reading);
    case 'photos':
      return say(knowledge, reader, 'export.photos.sent');
    case 'poll':
      return say(knowledge, reader, 'export.polled');
  }
}

interface Block {
  readonly key: string;
  readonly lines: readonly string[];
}

function kept(knowledge: Knowledge, reader: Words, { state, events, rows, files }: Exported): Block[] {
  const units = state.units ?? 'us';
  const blocks: Block[] = [
    { key: 'export.people', lines: state.people.map(({ id, role }) => `${id} (${role})`) },
    {
      key: 'export.facts',
      lines: Object.entries(state.facts).map(([finding, fact]) => factInWords(knowledge, reader, finding, fact)),
    },
    {
      key: 'export.readings',
      lines: state.readings.map((r) => {
        const name = nameOf(knowledge, reader, readingId(r));
        return say(knowledge, reader, 'echo.item', { name, value: measuredInWords(knowledge, reader, r, units) });
      }),
    },
    {
      key: 'export.hazards',
      lines: state.hazards.map((h) => knowledge.hazards.get(h.hazard)?.name[reader] ?? h.hazard),
    },
    {
      key: 'export.photos',
      lines: events.flatMap((e) => (e.type === 'photo-kept' ? [`${e.at} ${e.by}: ${e.ref ?? ''}`] : [])),
    },
    { key: 'export.clock', lines: state.offset?.told ? [`UTC${signed(state.offset.minutes)}`] : [] },
    { key: 'export.talks', lines: rows.conversations.map((c) => `${c.channel}: ${c.name}`) },
    { key: 'export.files', lines: files },
  ];
  return blocks.filter(({ lines }) => lines.length > 0);
}

/** Minutes east of Greenwich as a clock writes them: "-07:00". */
function signed(minutes: number): string {
  const two = (n: number): string => String(n).padStart(2, '0');
  const all = Math.abs(minutes);
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(all / 60))}:${two(all % 60)}`;
}
