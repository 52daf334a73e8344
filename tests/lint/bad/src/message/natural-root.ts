import natural from 'natural';

export const stem = natural.PorterStemmer.stem('freezing');
