import { join } from 'path';

export const path = join('a', 'b');
