/**
 * The colours of all pictures: few, so that each pair can be checked. Every ink stands out from every ground by 4.5 to
 * 1 or more, in colour and in grey; no meaning hangs on a colour alone.
 */

/** Light: what things are drawn on. */
export const paper = '#ffffff';
export const grounds = {
  cabinet: '#e7eaed',
  door: '#f4f5f6',
  freezerWall: '#cfe0ee',
  freezerSide: '#e6eff7',
  foodWall: '#f3ecd9',
  foodSide: '#faf6ec',
  band: '#cfe0ee',
} as const;

/** Dark: lines, lettering, frost, and the shapes of a verdict, which carry their signs in the colour of paper. */
export const inks = {
  line: '#14202b',
  quiet: '#4d5863',
  frost: '#15518c',
  good: '#12602a',
  bad: '#9c1414',
  inconclusive: '#6b4500',
} as const;
