import { two } from './cycle-two.js';

export const one = (): number => two() + 1;
