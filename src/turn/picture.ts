/** The picture that a message asks for, if any: where frost can be, or a sensor's readings on their curve. */
import { standingStops } from '../case/look.js';
import type { CaseState } from '../case/state.js';
import type { Knowledge, Words } from '../knowledge/facts.js';
import type { NamedPicture } from '../pictures/picture.js';
import { frostPicture, sensorPicture } from '../reply/pictures.js';
import type { Heard } from './hear.js';
import type { Mind } from './think.js';

/** Whether a message asks to see something. */
export const asksPicture = ({ acts }: Heard): boolean => acts.has('picture') || acts.has('chart');

/** Null where none is asked for, and while a danger stands. */
export function pictureAsked(
  knowledge: Knowledge,
  state: CaseState,
  words: Words,
  heard: Heard,
  mind: Mind,
): NamedPicture | null {
  if (!asksPicture(heard) || standingStops(state).length > 0) return null;
  const reader = { knowledge, words, units: state.units ?? 'us' } as const;
  const chart = heard.acts.has('chart') ? sensorPicture(reader, state, mind.judged) : null;
  return chart ? { ...chart, name: 'sensor' } : { ...frostPicture(knowledge, state, words), name: 'frost' };
}
