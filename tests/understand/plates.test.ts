// What is said of a part's own plate is no reading; the reading beside it is judged by it.
import { describe, expect, test } from 'vitest';
import { plateIn } from '../../src/understand/plates.js';
import { quantitiesIn } from '../../src/understand/quantities.js';

const plate = (text: string): ReturnType<typeof plateIn> => plateIn(text, quantitiesIn(text, false));

describe('a heater', () => {
  test.each(['htr 31 ohm, its a 450w 120v', '450 W at 120 V, 31 ohms', '31 ohms (120V/450W)', 'htr 31 ohm 450w/120v'])(
    '%s',
    (text) => {
      const { heater, measured } = plate(text);
      expect(heater).toEqual({ power: 450, voltage: 120 });
      expect(measured.filter((f) => f.kind === 'voltage' || f.kind === 'power')).toEqual([]);
      expect(measured.find((f) => f.kind === 'resistance')?.value).toBe(31);
    },
  );

  test('a supply measured far from the watts is a reading', () => {
    const { heater, measured } = plate('121 V at the outlet with everything running, the heater is a 450W one');
    expect(heater).toBeNull();
    expect(measured.find((f) => f.kind === 'voltage')?.value).toBe(121);
  });
});

describe('a thermostat', () => {
  test.each([
    ['bimetal marked 60-40 reads OL at 10F', null],
    ['tstat stamped L60-40F, open', 'degF'],
    ['it says 60-40 C on it', 'degC'],
  ])('%s', (text, unit) => {
    expect(plate(text).mark).toEqual({ mark: [60, 40], unit });
  });

  test.each(['about 60-40 I would say', 'OL at 10F', 'marked with a pen'])('none in: %s', (text) => {
    expect(plate(text).mark).toBeNull();
  });
});
