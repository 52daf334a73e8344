import { grainOf } from '../knowledge/good.js';

export const grain = grainOf('frost');
