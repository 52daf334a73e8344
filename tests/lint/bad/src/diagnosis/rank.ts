export const rank: readonly string[] = [];
