// The licences of everything that is installed, from the lock file: what the program ships with, then what only builds
// and tests it. Ends with 1 where one is not among those known to be permissive (or MPL-2.0, for files left as they are).
import { readFileSync } from 'node:fs';

const PERMISSIVE = ['MIT', 'ISC', '0BSD', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', 'BlueOak-1.0.0'];
/** Used as they come, no file of theirs changed. */
const MPL = /^(?:@resvg\/resvg-js|lightningcss)(?:-|$)|^axe-core$/;
/** Read by hand where package.json says nothing that a program could read. */
const BY_HAND = {
  sylvester: 'MIT',
  'enhanced-resolve': 'MIT',
  'dejavu-fonts-ttf': 'Bitstream-Vera',
  // a table of browsers, used by a tool of the tests
  'caniuse-lite': 'CC-BY-4.0',
};

const lock = JSON.parse(readFileSync(new URL('../package-lock.json', import.meta.url), 'utf8'));
const packages = Object.entries(lock.packages)
  .filter(([path]) => path !== '')
  .map(([path, { license, dev = false }]) => {
    const name = path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length);
    return { name, dev, licence: BY_HAND[name] ?? license ?? 'unknown' };
  });

const isFine = ({ name, licence }) =>
  (licence === 'MPL-2.0' && MPL.test(name)) ||
  BY_HAND[name] === licence ||
  licence
    .replaceAll(/[()]/g, '')
    .split(' OR ')
    .some((choice) => PERMISSIVE.includes(choice));

for (const dev of [false, true]) {
  console.log(dev ? '\nonly to build and test' : 'in the program');
  for (const [licence, group] of grouped(dev))
    console.log(`  ${licence} (${group.length}): ${[...new Set(group.map((p) => p.name))].join(', ')}`);
}
const odd = packages.filter((p) => !isFine(p));
for (const { name, licence } of odd) console.error(`${name}: ${licence} is not among the licences that are known`);
process.exitCode = odd.length > 0 ? 1 : 0;

function grouped(dev) {
  const by = new Map();
  for (const p of packages.filter((each) => each.dev === dev)) by.set(p.licence, [...(by.get(p.licence) ?? []), p]);
  return by;
}
