/** The sums of the sample pages, worked anew from the figures that they show: what a practitioner does with a pocket calculator. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { jobOf } from '../../server/advice/job';
import { answersWithNext } from '../../server/advice/next-step';
import { planOf, plansOn } from '../../server/advice/plans';
import { adviceOn } from '../../server/advice/topics';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';

const FOLDER = resolve(__dirname, '../../samples/bench');
const names = readdirSync(FOLDER);
const workspace = withTexts(
  emptyWorkspace('bench'),
  new Map(names.map((name) => [name, readFileSync(join(FOLDER, name), 'utf8')])),
);

/** Every line of every sum, of plans and of what is done. */
const rowsOn = (file: string): readonly string[] => {
  const plans = plansOn(workspace, file).flatMap((entry) => planOf(workspace, entry) ?? []);
  const done = workspace.pages.get(file)!.entries.flatMap((entry) => jobOf(workspace, entry, true) ?? []);
  return [...plans.flatMap(answersWithNext), ...done.flatMap((job) => adviceOn(job))].flatMap(
    ({ working }) => working().rows ?? [],
  );
};

const WORDS =
  /\b(?:g\/mL|g|mL|mol|K|Pa|acid|base|oxygen|HCl|HNO3|PbO|CuO|FeO|molten|lime|alumina|titania|the rest|of silver)\b,?/g;

const NUMBER = '\\d+(?:\\.\\d+)?';
const RANGE = new RegExp(`(${NUMBER})\\.\\.(${NUMBER})`);

interface Sum {
  readonly left: string;
  readonly right: string;
}

/** What stands before the last `=` as figures and signs alone, and the first figure behind it; none of a formula in words. */
const sumOf = (row: string): Sum | undefined => {
  const at = row.lastIndexOf(' = ');
  if (at < 0) return undefined;
  const [signs] = /(?:\d|\()[\d.\s×+−/()]*$/.exec(row.slice(0, at).replace(WORDS, '')) ?? [];
  // A name may end in figures of its own.
  const left = signs?.replace(/^.*\d\s+(?=\d)/, '');
  const [right] = new RegExp(`^[~\\s]*(${NUMBER}(?:\\.\\.${NUMBER})?)`).exec(row.slice(at + 3))?.slice(1) ?? [];
  if (left === undefined || right === undefined || !/[×+−/]/.test(left)) return undefined;
  if (row.endsWith('%')) return { left: `100 × ${left}`, right };
  return { left: row.includes('Pa') ? `1000 × ${left}` : left, right };
};

/** One sum, or two where a range is worked with: of its least and of its most. */
const endsOf = ({ left, right }: Sum): readonly Sum[] => {
  const [from, to] = [RANGE.exec(left), RANGE.exec(right)];
  if (!from) return [{ left, right: to ? to[1]! : right }].filter(() => !to);
  if (!to) return [];
  // Divided by the most it is the least.
  const [least, most] = /\/\s*$/.test(left.slice(0, from.index)) ? [from[2]!, from[1]!] : [from[1]!, from[2]!];
  return [
    { left: left.replace(RANGE, least), right: to[1]! },
    { left: left.replace(RANGE, most), right: to[2]! },
  ];
};

/** Sums of products, with brackets. */
const worked = (text: string): number => {
  const tokens = text.match(/[\d.]+|[×+−/()]/g) ?? [];
  let at = 0;
  const atom = (): number => {
    const token = tokens[at++]!;
    if (token !== '(') return Number(token);
    const value = sum();
    at++;
    return value;
  };
  const product = (): number => {
    let value = atom();
    while (tokens[at] === '×' || tokens[at] === '/') value = tokens[at++] === '×' ? value * atom() : value / atom();
    return value;
  };
  const sum = (): number => {
    let value = product();
    while (tokens[at] === '+' || tokens[at] === '−')
      value = tokens[at++] === '+' ? value + product() : value - product();
    return value;
  };
  return sum();
};

/** Half a step of the last digit that means something: two digits of a whole number, all of a fraction. */
const halfStep = (shown: string): number => {
  if (shown.includes('.')) return 0.5 * 10 ** -(shown.length - shown.indexOf('.') - 1);
  return 0.5 * 10 ** Math.max(0, shown.length - 2);
};

/** What figures cut to three digits, and a difference of two of them, leave open. */
const BY_ROUNDING = 0.02;

describe('the sums of the sample pages', () => {
  it.each(names.filter((name) => name.endsWith('.melt')))('of %s come out by hand', (file) => {
    for (const row of rowsOn(file)) {
      const found = sumOf(row);
      for (const { left, right } of found ? endsOf(found) : []) {
        const off = Math.abs(worked(left) - Number(right));
        expect(off, row).toBeLessThanOrEqual(halfStep(right) + BY_ROUNDING * worked(left));
      }
    }
  });

  it('are many', () => {
    const all = names.filter((name) => name.endsWith('.melt')).flatMap(rowsOn);
    expect(all.flatMap((row) => sumOf(row) ?? []).flatMap(endsOf).length).toBeGreaterThan(75);
  });

  it('are read as they stand', () => {
    expect(worked('60.08 × (1.5 × 2.94 − 3.13)/2')).toBeCloseTo(38.45, 2);
    expect(sumOf('SiO2              47 g (42..50): 47.5/60.08 × 2 = 1.58 mol acid')).toEqual({
      left: '47.5/60.08 × 2',
      right: '1.58',
    });
    expect(sumOf('crucible          room / 0.75 = 320..490 mL')).toBeUndefined();
  });
});
