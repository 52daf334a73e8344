export type Grain = string;
export const grainOf = (text: string): Grain => text;
