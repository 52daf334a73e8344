export const anything = (value: any): string => String(value);
