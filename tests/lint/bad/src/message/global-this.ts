export const now = (): number => globalThis.Date.now();
