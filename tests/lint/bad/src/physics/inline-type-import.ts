export type Grain = import('../knowledge/good.js').Grain;
