/** SVG as text: elements, shapes and lettering, with every word escaped. */

export type Attributes = Readonly<Record<string, string | number>>;

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** An element around content that is SVG already. */
export function element(name: string, attributes: Attributes, ...content: readonly string[]): string {
  const written = Object.entries(attributes).map(
    ([key, value]) => ` ${key}="${escaped(String(typeof value === 'number' ? px(value) : value))}"`,
  );
  const opening = `<${name}${written.join('')}`;
  return content.length > 0 ? `${opening}>${content.join('')}</${name}>` : `${opening}/>`;
}

/** Words made safe inside an element or an attribute; what XML 1.0 does not allow (section 2.2) is left out. */
export function escaped(words: string): string {
  return words
    .replace(/[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}

/** A closed shape through the points. */
export function polygon(points: readonly Point[], attributes: Attributes): string {
  return element('polygon', { points: listed(points), ...attributes });
}

/** An open line through the points, not filled. */
export function polyline(points: readonly Point[], attributes: Attributes): string {
  return element('polyline', { points: listed(points), fill: 'none', ...attributes });
}

export interface Lettering {
  readonly size: number;
  readonly fill: string;
  readonly bold?: boolean;
  readonly anchor?: 'start' | 'middle' | 'end';
}

/** One line of words with its baseline at the point. */
export function letters(words: string, { x, y }: Point, { size, fill, bold = false, anchor }: Lettering): string {
  return element(
    'text',
    {
      x,
      y,
      'font-size': size,
      fill,
      ...(bold && { 'font-weight': 'bold' }),
      ...(anchor && anchor !== 'start' && { 'text-anchor': anchor }),
    },
    escaped(words),
  );
}

function listed(points: readonly Point[]): string {
  return points.map(({ x, y }) => `${px(x)},${px(y)}`).join(' ');
}

/** A number as it is written: hundredths of a pixel are fine enough. */
export function px(value: number): number {
  return Math.round(value * 100) / 100;
}
