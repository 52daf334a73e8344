export const chance = (): number => Math.random();
