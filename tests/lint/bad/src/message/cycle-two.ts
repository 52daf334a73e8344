import { one } from './cycle-one.js';

export const two = (): number => one() - 1;
