/** Tries many spoilt pages, then as many workshop files: `npm run fuzz -- COUNT FIRST`. What breaks something is kept as a file for a test. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brokenOf, spoiltPage } from '../support/fuzz';
import { brokenWorkshop, spoiltWorkshop } from '../support/fuzz-workshop';

const [COUNT, FIRST] = [Math.trunc(+(process.argv[2] ?? 10_000)), Math.trunc(+(process.argv[3] ?? 1_000_000))];
const KEPT = join(process.cwd(), 'tests/fixtures/broken');
const LONG_MS = 5000;

interface Kind<Made extends string | Uint8Array> {
  readonly name: string;
  readonly ending: string;
  readonly make: (number: number) => Made;
  readonly broken: (made: Made, number: number) => readonly string[];
}

const tryAll = <Made extends string | Uint8Array>({ name, ending, make, broken }: Kind<Made>): void => {
  let found = 0;
  let slowest = { number: 0, milliseconds: 0 };
  for (let number = FIRST; number < FIRST + COUNT; number++) {
    const made = make(number);
    // Of the processor, not of the clock: other work on the machine is no fault of the page.
    const start = process.cpuUsage();
    const breaks = broken(made, number);
    const { user, system } = process.cpuUsage(start);
    const milliseconds = (user + system) / 1000;
    if (milliseconds > slowest.milliseconds) slowest = { number, milliseconds };
    if (breaks.length === 0 && milliseconds < LONG_MS) continue;
    found++;
    console.log(`${name} ${number}: ${breaks.length > 0 ? breaks.join('; ') : `${Math.round(milliseconds)} ms`}`);
    mkdirSync(KEPT, { recursive: true });
    writeFileSync(join(KEPT, `${number}.${ending}`), made);
  }
  console.log(
    `${COUNT} times a spoilt ${name} from ${FIRST} on: ${found} broke something; the slowest, ${slowest.number}, took ${Math.round(slowest.milliseconds)} ms`,
  );
};

tryAll({ name: 'page', ending: 'melt', make: spoiltPage, broken: brokenOf });
tryAll({ name: 'workshop file', ending: 'yaml', make: spoiltWorkshop, broken: brokenWorkshop });
