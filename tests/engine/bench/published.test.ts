/** Every published or computed figure of metallurgy that the bench is held to, and a table of them by source. */
import { afterAll, describe, expect, test } from 'vitest';
import { mixtureDensity } from '../../../server/engine/bench/density';
import density from '../../fixtures/metallurgy/alloying-density.json';
import weights from '../../fixtures/metallurgy/atomic-weights.json';
import cupellation from '../../fixtures/metallurgy/cupellation.json';
import fineness from '../../fixtures/metallurgy/fineness-parting.json';
import flux from '../../fixtures/metallurgy/flux-slag.json';
import hazards from '../../fixtures/metallurgy/hazards.json';
import melting from '../../fixtures/metallurgy/melting.json';
import oxidation from '../../fixtures/metallurgy/oxidation.json';
import settlement from '../../fixtures/metallurgy/settlement.json';
import { CUPELLATION } from './published/cupellation';
import { DENSITY } from './published/density';
import { FINENESS } from './published/fineness';
import { FLUX } from './published/flux';
import type { Found, Inputs, Reckoned } from './published/given';
import { MELTING } from './published/melting';
import { ATOMIC_WEIGHTS, HAZARDS, OXIDATION, SETTLEMENT } from './published/rest';

interface PublishedCase {
  readonly id: string;
  readonly quantity: string;
  readonly inputs: Inputs;
  readonly expected: Found;
  /** Absolute; none where the answer is a word. */
  readonly tolerance: number | null;
  readonly unit: string;
  readonly source: string;
  readonly standing: string;
  readonly note?: string;
}

const SUBJECTS: readonly (readonly [string, { readonly cases: readonly unknown[] }, Reckoned])[] = [
  ['fineness and parting', fineness, FINENESS],
  ['alloying and density', density, DENSITY],
  ['melting', melting, MELTING],
  ['flux and slag', flux, FLUX],
  ['cupellation', cupellation, CUPELLATION],
  ['oxidation', oxidation, OXIDATION],
  ['atomic weights', weights, ATOMIC_WEIGHTS],
  ['terms of sale', settlement, SETTLEMENT],
  ['exposure', hazards, HAZARDS],
];

/** Figures that the source rounds on the way: reckoned with its own digits, and told so in the table. */
const AT_SOURCE_DIGITS: ReadonlyMap<string, string> = new Map([
  ['MET-035', 'the source rounds 4/7.5 to 0.53 and 5/4.0 to 1.25, and so 9/1.78 to 5.06; unrounded it is 5.047'],
]);

const met = new Map<string, { cases: number; met: number }>();

describe.each(SUBJECTS)('%s', (_, file, reckoned) => {
  const cases = file.cases as readonly PublishedCase[];

  test('every case has its reckoning, and no reckoning is without a case', () => {
    expect(Object.keys(reckoned).sort()).toEqual(cases.map(({ id }) => id).sort());
  });

  test.each(cases.map((one) => [nameOf(one), one] as const))('%s', (_name, one): void => {
    const count = met.get(sourceOf(one)) ?? { cases: 0, met: 0 };
    met.set(sourceOf(one), count);
    count.cases++;
    compare(reckoned[one.id]!(one.inputs), one);
    count.met++;
  });
});

// Told here and in the table, lest it be taken for what the bench itself says.
test('MET-035 is by the bench, which rounds nothing on the way, 5.047 and not 5.06', () => {
  const parts = [
    { mass: 4, gramsPerCubicCentimetre: 7.5 },
    { mass: 5, gramsPerCubicCentimetre: 4 },
  ];
  expect(mixtureDensity(parts).toFixed(3)).toBe('5.047');
});

test('no case is missing or there twice', () => {
  const ids = SUBJECTS.flatMap(([, file]) => (file.cases as readonly PublishedCase[]).map(({ id }) => id));
  expect(new Set(ids).size).toBe(ids.length);
  expect(ids.length).toBe(184);
});

afterAll(() => {
  const rows = [...met].sort(([, one], [, other]) => other.cases - one.cases);
  for (const [id, why] of AT_SOURCE_DIGITS) process.stdout.write(`Met at the source's own digits: ${id}, ${why}\n`);
  const lines = rows.map(
    ([source, count]) => `${String(count.met).padStart(4)} of ${String(count.cases).padStart(3)}  ${source}`,
  );
  process.stdout.write(`Published figures met, by source\n${lines.join('\n')}\n`);
});

function nameOf({ id, quantity, inputs, standing, note = '' }: PublishedCase): string {
  const digits = AT_SOURCE_DIGITS.get(id);
  const memory = [standing, note].find((each) => each.toLowerCase().includes('memory'));
  return `${id} ${quantity} ${JSON.stringify(inputs)}${memory ? ` [${memory.toLowerCase()}]` : ''}${digits ? ` [at the source's digits: ${digits}]` : ''}`;
}

/** The work that a source names, without its page. */
function sourceOf({ source }: PublishedCase): string {
  return source.split(/[,(:;]/)[0]!.trim();
}

function compare(found: Found, { expected, tolerance }: PublishedCase): void {
  if (typeof expected === 'string') {
    expect(found).toBe(expected);
    return;
  }
  const [actual, wanted] = [[found].flat(), [expected].flat()] as [number[], number[]];
  expect(actual).toHaveLength(wanted.length);
  for (const [at, value] of wanted.entries()) {
    // A tolerance of 0 is for exact figures; the machine's own rounding of a sum of decimals is no error of the formula.
    const allowed = (tolerance ?? 0) + 1e-12 * Math.abs(value);
    expect(Math.abs(actual[at]! - value), `${actual[at]} is ${value} ± ${tolerance}`).toBeLessThanOrEqual(allowed);
  }
}
