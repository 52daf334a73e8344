/** What the drawing of a layout hands over to be numbered. Places in px of the picture. */
import type { Point } from './svg.js';

/** A place where frost can be: where its number stands, and the frost drawn about it. */
export interface Spot {
  readonly at: Point;
  readonly frost: readonly Point[];
}

/** A refrigerator with its doors open. */
export interface Drawing {
  readonly height: number;
  readonly drawn: readonly string[];
  readonly spots: Readonly<Record<string, Spot>>;
  /** where the name of a compartment may stand: the middle of its baseline */
  readonly names: { readonly freezer: Point; readonly freshFood?: Point };
}
