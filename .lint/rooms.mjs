// Which room of src/ may use which: the one table of import direction. It decides nothing about a single line of code;
// house-rules.mjs reads it and refuses what it does not allow. A room always may use itself.

const things = ['knowledge', 'message', 'case', 'physics'];
const stops = ['understand', 'safety', 'readings', 'diagnosis'];
const forTurn = [...things, 'pictures', ...stops, 'reply', 'handoff', 'desk'];

/** Room (a folder or file at the top of src/) -> the other rooms it may use. A room not named here may not exist. */
export const rooms = {
  knowledge: [],
  physics: [],
  message: ['knowledge'],
  case: ['knowledge', 'message'],
  understand: things,
  readings: things,
  safety: ['knowledge', 'message', 'case'],
  diagnosis: ['knowledge', 'message', 'case'],
  pictures: ['knowledge', 'physics', 'case'],
  reply: [...things, ...stops, 'pictures'],
  handoff: [...things, ...stops, 'reply', 'pictures'],
  desk: ['knowledge', 'message', 'case', 'handoff'],
  outcomes: ['knowledge', 'message', 'case', 'diagnosis'],
  study: [...things, 'pictures', ...stops],
  channels: ['knowledge', 'message', 'pictures'],
  store: ['message', 'case'],
  turn: forTurn,
  conversation: ['turn', ...forTurn],
  commands: ['conversation', 'turn', ...forTurn, 'outcomes', 'study', 'channels', 'store'],
  main: ['commands'],
};

/** The rooms that may touch Node, Discord, SQLite, the clock and chance; everywhere else these are arguments. */
export const outsideRooms = ['commands', 'channels', 'store', 'conversation'];

/** The one other file that may: it opens the knowledge folder. */
export const outsideFile = 'knowledge/files.ts';
