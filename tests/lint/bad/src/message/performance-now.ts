export const ticks = (): number => performance.now();
