/** A picture that was asked for, written where it was asked for: as SVG, or as PNG. */
import { writeFileSync } from 'node:fs';
import { png } from '../channels/png.js';
import type { Picture } from '../pictures/picture.js';
import { UsageProblem } from './problem.js';

export const isPictureName = (file: string): boolean => /\.(?:svg|png)$/i.test(file);

/** @throws UsageProblem where the file cannot be written */
export async function writePicture(path: string, picture: Picture): Promise<void> {
  const body = /\.png$/i.test(path) ? await png(picture.svg) : picture.svg;
  try {
    writeFileSync(path, body);
  } catch (error) {
    throw new UsageProblem(`the picture cannot be written: ${error instanceof Error ? error.message : String(error)}`);
  }
}
