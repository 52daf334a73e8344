const { random } = Math;
export const chance = (): number => random();
