export type Knowledge = typeof import('../knowledge/good.js');
