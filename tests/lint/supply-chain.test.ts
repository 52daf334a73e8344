// What is installed with the program: exact versions, named and explained, no script but the one allowed, free licences.

import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const file = (name: string): string => fileURLToPath(new URL(`../../${name}`, import.meta.url));
interface Package {
  readonly dependencies: Readonly<Record<string, string>>;
  readonly devDependencies: Readonly<Record<string, string>>;
  readonly allowScripts: Readonly<Record<string, boolean>>;
}
const own = JSON.parse(readFileSync(file('package.json'), 'utf8')) as Package;
const lock = JSON.parse(readFileSync(file('package-lock.json'), 'utf8')) as {
  readonly packages: Readonly<Record<string, { readonly hasInstallScript?: boolean; readonly integrity?: string }>>;
};
const all = { ...own.dependencies, ...own.devDependencies };

test('versions are exact', () => {
  for (const [name, version] of Object.entries(all)) expect(version, name).toMatch(/^\d+\.\d+\.\d+$/);
});

test('each dependency is named in the guide, with why', () => {
  const guide = readFileSync(file('DEVELOPERS.md'), 'utf8').split('## Dependencies')[1] ?? '';
  const named = (guide.match(/^\| (?!-)[^|]+/gm) ?? []).flatMap((cell) => cell.slice(2).trim().split(', '));
  const isNamed = (name: string): boolean =>
    named.some((n) => n === name || (n.endsWith('/*') && name.startsWith(n.slice(0, -1))));
  expect(Object.keys(all).filter((name) => !isNamed(name))).toEqual([]);
});

test('no install script but those that are allowed by name', () => {
  const scripts = Object.entries(lock.packages).flatMap(([path, { hasInstallScript }]) =>
    hasInstallScript && path !== '' ? [path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length)] : [],
  );
  expect(scripts.filter((name) => own.allowScripts[name] !== true)).toEqual([]);
});

test('every package of the lock file carries its checksum', () => {
  const bare = Object.entries(lock.packages).filter(([path, { integrity }]) => path !== '' && !integrity);
  expect(bare.map(([path]) => path)).toEqual([]);
});

test('licences are permissive, or MPL-2.0 where named', () => {
  expect(execFileSync(process.execPath, [file('.lint/licences.mjs')], { encoding: 'utf8' })).toContain('MIT (');
});
