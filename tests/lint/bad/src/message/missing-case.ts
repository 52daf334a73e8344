export const word = (kind: 'frost' | 'ice'): string => {
  switch (kind) {
    case 'frost':
      return 'white';
  }
  return '';
};
