/** Tries many spoilt pages: `npm run fuzz -- COUNT FIRST`. A page that breaks something is kept as a file for a test. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brokenOf, spoiltPage } from '../support/fuzz';

const [COUNT, FIRST] = [Math.trunc(+(process.argv[2] ?? 10_000)), Math.trunc(+(process.argv[3] ?? 1_000_000))];
const KEPT = join(process.cwd(), 'tests/fixtures/broken');
const LONG_MS = 5000;

let found = 0;
let slowest = { number: 0, milliseconds: 0 };
for (let number = FIRST; number < FIRST + COUNT; number++) {
  const text = spoiltPage(number);
  // Of the processor, not of the clock: other work on the machine is no fault of the page.
  const start = process.cpuUsage();
  const broken = brokenOf(text, number);
  const { user, system } = process.cpuUsage(start);
  const milliseconds = (user + system) / 1000;
  if (milliseconds > slowest.milliseconds) slowest = { number, milliseconds };
  if (broken.length === 0 && milliseconds < LONG_MS) continue;
  found++;
  console.log(`page ${number}: ${broken.length > 0 ? broken.join('; ') : `${Math.round(milliseconds)} ms`}`);
  mkdirSync(KEPT, { recursive: true });
  writeFileSync(join(KEPT, `${number}.melt`), text);
}
console.log(
  `${COUNT} spoilt pages from ${FIRST} on: ${found} broke something; the slowest, ${slowest.number}, took ${Math.round(slowest.milliseconds)} ms`,
);
