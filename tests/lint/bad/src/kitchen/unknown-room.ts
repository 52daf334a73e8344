export const kettle = 'on';
