import { rank } from '../diagnosis/rank.js';

export const first = rank[0];
