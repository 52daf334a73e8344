import type { Grain } from '../knowledge/good.js';

export const grain: Grain = 'frost';
