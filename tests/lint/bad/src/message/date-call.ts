export const now = (): string => Date();
