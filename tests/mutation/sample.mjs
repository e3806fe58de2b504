/**
 * Windows of lines out of all of the engine, by lot: `node tests/mutation/sample.mjs 7 45` prints 45 of them for the seed 7, as `npm run mutate -- -m`
 * takes them. All of the engine takes a night; a few hundred changes by lot tell its score within some percent.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const LINES = 12;
const [seed = 1, count = 45] = process.argv.slice(2).map(Number);

/** Mulberry32, by Tommy Ettinger, public domain. */
const randomFrom = (start) => {
  let state = start >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
};

const windows = readdirSync('server/engine', { recursive: true })
  .map((name) => join('server/engine', name))
  .filter((name) => name.endsWith('.ts'))
  .sort()
  .flatMap((name) => {
    const lines = readFileSync(name, 'utf8').split('\n').length;
    return Array.from({ length: Math.ceil(lines / LINES) }, (_, at) => `${name}:${at * LINES + 1}-${(at + 1) * LINES}`);
  });

const random = randomFrom(seed);
const chosen = new Set();
while (chosen.size < Math.min(count, windows.length)) chosen.add(windows[Math.floor(random() * windows.length)]);
console.log([...chosen].join(','));
