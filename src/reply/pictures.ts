/** The two pictures in a reader's words: where frost can be in this layout, and a sensor's readings on their curve. */
import { valueOf } from '../case/look.js';
import type { CaseState } from '../case/state.js';
import type { Knowledge, Words } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import { frostPlaces, layouts } from '../pictures/frost-places.js';
import type { Picture, PictureWords } from '../pictures/picture.js';
import { sensorCurve, type ShownReading } from '../pictures/sensor-curve.js';
import type { Judged } from '../readings/judge.js';
import { sensorBand } from '../readings/sensor-band.js';
import type { Reader } from './ice-amount.js';
import { labelOf } from './names.js';
import { say } from './say.js';

const wordsOf =
  (knowledge: Knowledge, words: Words): PictureWords =>
  (key, fill = {}) =>
    say(knowledge, words, key, fill);

/** A freezer on top is drawn until the layout is known: the numbers are the same in every picture. */
const COMMONEST = 'top-freezer';

export function frostPicture(knowledge: Knowledge, state: CaseState, words: Words): Picture {
  const named = wordsOf(knowledge, words);
  const known = valueOf(state, F.layout);
  return frostPlaces(layouts.find((layout) => layout === known) ?? COMMONEST, {
    dispenser: valueOf(state, F.dispenser) === 'yes',
    labels: (place) => labelOf(knowledge, words, F.frostPlace, place),
    title: named('picture.frost.title'),
    names: { freezer: named('picture.frost.freezer'), freshFood: named('picture.frost.fresh-food') },
  });
}

const isSensor = (knowledge: Knowledge, { step }: Pick<Judged, 'step'>): boolean =>
  knowledge.readings.get(step)?.judge === 'sensor-resistance';

/** The chart of the last two readings of a sensor, or of the one; null without any, or where no curve is known. */
export function sensorPicture(reader: Reader, state: CaseState, judged: readonly Judged[]): Picture | null {
  const { knowledge, words, units } = reader;
  const sensors = judged.filter((one) => isSensor(knowledge, one));
  const latest = sensors.at(-1);
  const reading = latest && knowledge.readings.get(latest.step);
  if (!latest || !reading) return null;
  const { measured } = latest;
  const others = sensors.flatMap((one) => (one === latest ? [] : [one.measured]));
  const { at } = sensorBand({ knowledge, state, reading, given: measured, others });
  if (!DEGREES.some((celsius) => at(celsius) !== undefined)) return null;
  const before = sensors.at(-2);
  return sensorCurve({
    curve: { name: nameOfCurve(reader, state, latest), at },
    readings: before ? [shown(before), shown(latest)] : [shown(latest)],
    units,
    words: wordsOf(knowledge, words),
  });
}

/** Where a chart looks for its curve, degC. */
const DEGREES = Array.from({ length: 201 }, (_, i) => i - 80);

function shown({ measured, expected, verdict }: Judged): ShownReading {
  const { value, atC } = measured;
  const range = expected && 'low' in expected ? { lowOhm: expected.low, highOhm: expected.high } : null;
  return { ohm: typeof value === 'number' ? value : 'OL', atC, expected: range, verdict };
}

function nameOfCurve({ knowledge, words }: Reader, state: CaseState, { measured, against }: Judged): string {
  const curve = measured.curve === null ? undefined : knowledge.curves.get(measured.curve);
  const family = state.family === null ? undefined : knowledge.units.get(state.family);
  if (against === 'curve' && curve) return curve.title;
  if (against === 'case' && family) return family.title;
  return say(knowledge, words, `page.against.${against}`);
}
