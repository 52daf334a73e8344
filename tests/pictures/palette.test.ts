import { describe, expect, test } from 'vitest';
import { grounds, inks, paper } from '../../src/pictures/palette.js';
import { frostPlaces, layouts } from '../../src/pictures/frost-places.js';

// Relative luminance and contrast ratio as defined in WCAG 2.1 and 2.2 (w3.org/TR/WCAG22, "relative luminance",
// "contrast ratio"); 4.5 to 1 is success criterion 1.4.3 for text, and asked here of every line as well.
function luminance(hex: string): number {
  const [red, green, blue] = [1, 3, 5].map((i) => {
    const part = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(one: string, other: string): number {
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

test('the formula gives the standard’s own ends, and 4.5 for the grey that just passes on white', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  expect(contrast('#ffffff', '#ffffff')).toBeCloseTo(1, 6);
  // Technique G18 lists #767676 on white as the lightest grey that passes (from memory).
  expect(contrast('#767676', '#ffffff')).toBeGreaterThan(4.5);
  expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5);
});

describe.each(Object.entries({ paper, ...grounds }))('on %s', (_, ground) => {
  test.each(Object.entries(inks))('%s stands out by 4.5 to 1', (__, ink) => {
    expect(contrast(ink, ground)).toBeGreaterThanOrEqual(4.5);
  });
});

test('without colour a back wall is still darker than the walls around it', () => {
  expect(contrast(grounds.freezerWall, grounds.freezerSide)).toBeGreaterThan(1.1);
  expect(contrast(grounds.foodWall, grounds.foodSide)).toBeGreaterThan(1.05);
});

test('a drawing has no colour beside these', () => {
  const known = new Set<string>([paper, ...Object.values(grounds), ...Object.values(inks)]);
  for (const layout of layouts) {
    const { svg } = frostPlaces(layout, { dispenser: true, labels: (value) => value, title: 'title' });
    const colours = [...svg.matchAll(/(?:fill|stroke)="([^"]*)"/g)].map((found) => found[1]!);
    expect(colours.filter((colour) => colour !== 'none' && !known.has(colour))).toEqual([]);
  }
});
