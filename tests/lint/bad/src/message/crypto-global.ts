export const id = (): string => crypto.randomUUID();
