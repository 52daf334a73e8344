const { now } = Date;
export const moment = (): number => now();
