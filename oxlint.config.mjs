// What lint refuses. The rooms of src/ and who may use whom stand in .lint/rooms.mjs.

import { outsideFile, outsideRooms } from './.lint/rooms.mjs';

const argument = 'Take it as an argument.';
const outsideFiles = [
  ...outsideRooms.flatMap((room) => [`**/src/${room}/**`, `**/src/${room}.ts`]),
  `**/src/${outsideFile}`,
];

const noOutside = {
  'no-restricted-globals': [
    'error',
    ...[
      'process',
      'console',
      'Buffer',
      'require',
      'global',
      'globalThis',
      'performance',
      'crypto',
      'fetch',
      'setTimeout',
      'setInterval',
      'setImmediate',
    ].map((name) => ({ name, message: argument })),
  ],
  'no-restricted-properties': [
    'error',
    { object: 'Date', property: 'now', message: argument },
    { object: 'Math', property: 'random', message: argument },
  ],
};

const everythingOutside = { 'no-restricted-globals': 'off', 'no-restricted-properties': 'off' };

export default {
  plugins: ['eslint', 'typescript', 'unicorn', 'oxc', 'import'],
  jsPlugins: ['./.lint/house-rules.mjs'],
  categories: { correctness: 'error', suspicious: 'error' },
  options: { typeAware: true },
  env: { node: true, es2024: true },
  rules: {
    eqeqeq: 'error',
    'max-lines': ['warn', { max: 300 }],
    'no-restricted-imports': [
      'error',
      {
        paths: [
          { name: 'natural', message: 'Import one file of it, with .js: its root opens databases and reads .env.' },
        ],
      },
    ],
    'import/no-cycle': 'error',
    'typescript/no-explicit-any': 'error',
    'typescript/no-floating-promises': 'error',
    'typescript/no-misused-promises': 'error',
    'typescript/await-thenable': 'error',
    'typescript/switch-exhaustiveness-check': 'error',
    'typescript/consistent-type-imports': 'error',
    'typescript/no-unsafe-type-assertion': 'off',
    'unicorn/no-array-sort': 'off',
    'unicorn/consistent-function-scoping': 'off',
    // The compiler sees missing returns, and unlike this rule knows an exhaustive switch.
    'typescript/consistent-return': 'off',
    'no-await-in-loop': 'off',
    'no-underscore-dangle': 'off',
    'house/import-direction': 'error',
    'house/no-ambient-clock': 'error',
  },
  overrides: [
    { files: ['**/src/**'], rules: noOutside },
    { files: [...outsideFiles, '**/src/main.ts'], rules: everythingOutside },
    { files: ['tests/**/*.ts'], rules: { 'max-lines': 'off' } },
  ],
};
