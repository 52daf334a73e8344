// The two house rules that no ready-made lint rule can see: rooms that may not use each other, and a clock read without
// being handed one. They judge one file at a time and never change it.

import { isBuiltin } from 'node:module';
import { dirname, relative, resolve, sep } from 'node:path';
import { outsideFile, outsideRooms, rooms } from './rooms.mjs';

const outsidePackages = ['discord.js', 'better-sqlite3', 'pino'];

/** Where a file stands: { src: the folder's path, path: within src with slashes, room }; undefined outside any src/. */
function place(file) {
  const cut = file.lastIndexOf(`${sep}src${sep}`);
  if (cut < 0) return undefined;
  const src = file.slice(0, cut + 4);
  const path = relative(src, file).split(sep).join('/');
  return { src, path, room: path.split('/')[0].replace(/\.[cm]?[jt]s$/, '') };
}

function mayTouchOutside({ path, room }) {
  return outsideRooms.includes(room) || path === outsideFile;
}

/** What is wrong with `here` using the module named `specifier`, or undefined. */
function refusal(here, file, specifier) {
  if (specifier.startsWith('.')) {
    const there = place(resolve(dirname(file), specifier));
    if (there?.src !== here.src) return `'${specifier}' is outside src/: a room uses only rooms and packages.`;
    if (there.room === here.room || rooms[here.room].includes(there.room)) return undefined;
    const allowed = rooms[here.room].join(', ') || 'no other room';
    return `'${here.room}' may not use '${there.room}'. It may use: ${allowed}. The table is .lint/rooms.mjs.`;
  }
  if (/^(\/|#|file:|data:|thawline(\/|$))/.test(specifier)) {
    return `'${specifier}' hides which room it leads to: write a relative path.`;
  }
  const outside =
    isBuiltin(specifier) || outsidePackages.some((name) => specifier === name || specifier.startsWith(`${name}/`));
  if (outside && !mayTouchOutside(here)) {
    return `'${specifier}' is used only in ${[...outsideRooms, outsideFile].join(', ')}: take what you need as an argument.`;
  }
  return undefined;
}

const importDirection = {
  create(context) {
    const here = place(context.filename);
    if (here === undefined) return {};
    if (rooms[here.room] === undefined) {
      return {
        Program: (node) =>
          context.report({ node, message: `'${here.room}' is not a room: add it to the table in .lint/rooms.mjs.` }),
      };
    }
    const judge = (source) => {
      if (source === null || source === undefined) return;
      const literal = source.type === 'TSLiteralType' ? source.literal : source;
      const message =
        typeof literal.value === 'string'
          ? refusal(here, context.filename, literal.value)
          : 'An import whose path is computed cannot be judged: write the path out.';
      if (message !== undefined) context.report({ node: source, message });
    };
    return {
      ImportDeclaration: (node) => judge(node.source),
      ExportNamedDeclaration: (node) => judge(node.source),
      ExportAllDeclaration: (node) => judge(node.source),
      ImportExpression: (node) => judge(node.source),
      TSImportType: (node) => judge(node.source ?? node.argument),
      TSExternalModuleReference: (node) => judge(node.expression),
    };
  },
};

const noAmbientClock = {
  create(context) {
    const here = place(context.filename);
    if (here === undefined || mayTouchOutside(here)) return {};
    const judge = (node) => {
      if (node.callee.type !== 'Identifier' || node.callee.name !== 'Date') return;
      if (node.type === 'NewExpression' && node.arguments.length > 0) return;
      context.report({ node, message: 'This reads the clock: take the time as an argument.' });
    };
    return { NewExpression: judge, CallExpression: judge };
  },
};

export default {
  meta: { name: 'house' },
  rules: { 'import-direction': importDirection, 'no-ambient-clock': noAmbientClock },
};
