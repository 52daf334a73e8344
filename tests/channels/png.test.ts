import { expect, test } from 'vitest';
import { png } from '../../src/channels/png.js';
import { letters } from '../../src/pictures/svg.js';

const drawing = (content: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 100">${content}</svg>`;

// Signature and the IHDR chunk's width and height: PNG specification (third edition), 5.2 and 11.2.1.
test('a PNG of the width asked for, twice the drawing’s own otherwise', async () => {
  const asked = await png(drawing(''), 400);
  expect([...asked.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  expect(asked.subarray(12, 16).toString('latin1')).toBe('IHDR');
  expect([asked.readUInt32BE(16), asked.readUInt32BE(20)]).toEqual([400, 100]);
  expect((await png(drawing(''))).readUInt32BE(16)).toBe(800);
});

test('words leave ink, regular and bold and the trade’s signs', async () => {
  const empty = await png(drawing(''), 400);
  const inks = await Promise.all(
    ['back wall', 'Ω', '°', '−'].flatMap((words) =>
      [false, true].map((bold) =>
        png(drawing(letters(words, { x: 20, y: 60 }, { size: 30, fill: '#000000', bold })), 400),
      ),
    ),
  );
  for (const ink of inks) expect(ink.equals(empty)).toBe(false);
  expect(new Set(inks.map((ink) => ink.toString('base64'))).size).toBe(inks.length);
});

test('what is no SVG is refused', async () => {
  await expect(png('<svg xmlns="http://www.w3.org/2000/svg"><g></svg>')).rejects.toThrow();
});
