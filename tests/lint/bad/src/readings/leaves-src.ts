import { helper } from '../../outside.js';

export const borrowed = helper;
