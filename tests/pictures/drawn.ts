// What tests see of a picture: its pixels, its lettering, its colours. Reads SVG as pictures write it, no other.

import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { Resvg } from '@resvg/resvg-js';
import { parse } from 'yaml';
import { wordsFile } from '../../src/knowledge/schema.js';
import type { PictureWords } from '../../src/pictures/picture.js';

const installed = createRequire(import.meta.url);
const fontFiles = ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'].map((name) =>
  installed.resolve(`dejavu-fonts-ttf/ttf/${name}`),
);

const rendered = (svg: string, width?: number, fonts = true): Resvg =>
  new Resvg(svg, {
    ...(width && { fitTo: { mode: 'width' as const, value: width } }),
    font: { loadSystemFonts: false, ...(fonts && { fontFiles, defaultFontFamily: 'DejaVu Sans' }) },
  });

/** Pixels at a width in px; throws where the SVG is not well-formed XML (the renderer's parser is strict). */
export function pixels(svg: string, width = 400, fonts = true) {
  const image = rendered(svg, width, fonts).render();
  const bytes = image.pixels;
  const scale = width / 400;
  const at = (x: number, y: number): string => {
    const start = 4 * (Math.round(y * scale) * image.width + Math.round(x * scale));
    return `#${bytes.subarray(start, start + 3).toString('hex')}`;
  };
  return { width: image.width, height: image.height, bytes, at };
}

export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The box of what is drawn in an SVG document. */
export function box(svg: string): Rectangle {
  const found = rendered(svg).getBBox();
  if (!found) throw new Error('nothing is drawn');
  const { x, y, width, height } = found;
  return { x, y, width, height };
}

export interface Line {
  readonly words: string;
  readonly size: number;
  readonly box: Rectangle;
}

/** The size of the drawing, px. */
export function sizeOf(svg: string): { width: number; height: number } {
  const [, width, height] = /viewBox="0 0 (\S+) (\S+)"/.exec(svg)!;
  return { width: Number(width), height: Number(height) };
}

/** Every line of lettering with the box its ink fills, as the real font draws it. */
export function lettering(svg: string): Line[] {
  const group = /<g transform="translate\(0 (\S+)\)">/.exec(svg);
  const groupEnd = svg.indexOf('</g>');
  return [...svg.matchAll(/<text x="(\S+)" y="(\S+)" ([^>]*)>([^<]*)<\/text>/g)].map((found) => {
    const [, x, y, look, words] = found as unknown as [string, string, string, string, string];
    const moved = group && found.index > group.index && found.index < groupEnd ? Number(group[1]) : 0;
    const ink = inkOf(look, words);
    return {
      words: words.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&quot;', '"').replaceAll('&amp;', '&'),
      size: Number(/font-size="([^"]*)"/.exec(look)![1]),
      box: { ...ink, x: ink.x + Number(x), y: ink.y + Number(y) + moved },
    };
  });
}

const measured = new Map<string, Rectangle>();

/** The ink of a line that is set at the origin, px. */
function inkOf(look: string, words: string): Rectangle {
  const key = `${look}>${words}`;
  const known = measured.get(key);
  if (known) return known;
  const { x, y, width, height } = box(
    `<svg xmlns="http://www.w3.org/2000/svg" width="1000" height="100" font-family="DejaVu Sans"><text x="500" y="50" ${key}</text></svg>`,
  );
  const ink = { x: x - 500, y: y - 50, width, height };
  measured.set(key, ink);
  return ink;
}

/** Do two boxes share more than a hair? */
export function overlap(one: Rectangle, other: Rectangle): boolean {
  const across = Math.min(one.x + one.width, other.x + other.width) - Math.max(one.x, other.x);
  const down = Math.min(one.y + one.height, other.y + other.height) - Math.max(one.y, other.y);
  return across > 0.5 && down > 0.5;
}

const texts = wordsFile.parse(parse(readFileSync('knowledge/words/pictures.yaml', 'utf8')));

/** Every key of the pictures' words. */
export const wordKeys = Object.keys(texts);

/** The words of the knowledge folder for a role; `asked` collects the keys that were used. */
export function wordsOf(role: 'homeowner' | 'technician', asked = new Set<string>()): PictureWords {
  return (key, fill = {}) => {
    const text = texts[key];
    if (text === undefined) throw new Error(`no text is called ${key}`);
    asked.add(key);
    return (typeof text === 'string' ? text : text[role]).replaceAll(/\{(\w+)\}/g, (_, name: string) => {
      const value = fill[name];
      if (value === undefined) throw new Error(`${key} has {${name}}, which is not filled`);
      return value;
    });
  };
}
