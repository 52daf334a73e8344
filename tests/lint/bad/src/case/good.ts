import type { Grain } from '../knowledge/good.js';
import { grainOf } from '../knowledge/good.js';
import { z } from 'zod';

export const shape = z.string();
export type { Grain } from '../knowledge/good.js';

export async function later(at: Date, milliseconds: number): Promise<Date> {
  const knowledge = await import('../knowledge/good.js');
  const grain: Grain = knowledge.grainOf(new Date(at.getTime() + milliseconds).toISOString());
  return new Date(Date.parse(grainOf(grain)));
}
