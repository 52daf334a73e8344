/**
 * Pictures draws what words explain badly: where frost sits in a refrigerator, and where a reading lies on its
 * sensor's curve. It turns facts that others have judged into SVG text. It never judges, never words a sentence of
 * its own and never opens a file.
 */
import { element, escaped } from './svg.js';
import { paper } from './palette.js';

/** An SVG document, and the same in words for those who do not see it. */
export interface Picture {
  readonly svg: string;
  readonly alt: string;
}

/** A picture with what it shows, for the name of its file. */
export interface NamedPicture extends Picture {
  readonly name: 'frost' | 'sensor';
}

/** The words of a picture: the wording of a key of the knowledge folder, its {placeholders} filled in. */
export type PictureWords = (key: string, fill?: Readonly<Record<string, string>>) => string;

/** Every picture is as wide as a phone: a unit of the drawing is one of its pixels, so sizes are what a person sees. */
export const WIDTH = 400;

export const FONT_FAMILY = 'DejaVu Sans';

/** The whole document: paper of the given height (px), then what is drawn on it. */
export function picture(height: number, alt: string, drawn: readonly string[]): Picture {
  const svg = element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${WIDTH} ${height}`,
      width: WIDTH,
      height,
      role: 'img',
      'font-family': FONT_FAMILY,
    },
    element('title', {}, escaped(alt)),
    element('rect', { width: WIDTH, height, fill: paper }),
    ...drawn,
  );
  return { svg, alt };
}
