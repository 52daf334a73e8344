export type { Grain } from '../knowledge/good.js';
