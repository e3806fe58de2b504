/** Figures at the ends of lines. Each case is a page as it is seen: what stands behind `│` is the hint of its line, and no other line has one. */
import { describe, expect, test } from 'vitest';
import { type HintFamily, type HintLevel, hintsOf } from '../../server/features/hints';
import { HINT_FAMILIES } from '../../server/lsp/settings';
import type { Workspace } from '../../server/workspace/workspace';
import { makeJournal, WORKSHOP } from '../support/journal';
import { seeded } from '../support/random';
import { pageWorkspace, workspaceOf } from '../support/workspace';

const SHOP = `scales:
  bench: 0.01 g
  platform: 1 g
containers:
  tray-3: 64.83 g
crucibles:
  C1: 100 mL
`;

const FILE = 'page.melt';
const MARK = ' │ ';

/** Cautions have their own tests: here they would stand on most first lines. */
const BUT_CAUTIONS: ReadonlySet<HintFamily> = new Set(HINT_FAMILIES.filter((family) => family !== 'caution'));

/** The page with its hints behind its lines. */
const seen = (workspace: Workspace, families: ReadonlySet<HintFamily> = BUT_CAUTIONS): string => {
  const { text } = workspace.pages.get(FILE)!.page;
  const labels = new Map(hintsOf(workspace, FILE, undefined, families).map(({ offset, label }) => [offset, label]));
  let end = -1;
  return text
    .split('\n')
    .map((line) => {
      end += line.length + 1;
      const label = labels.get(end);
      return label === undefined ? line : `${line}${MARK}${label}`;
    })
    .join('\n');
};

const pageIn = (shown: string): string =>
  shown
    .split('\n')
    .map((line) => line.split(MARK, 1)[0]!)
    .join('\n');

const check = (shown: string, families?: HintFamily[]): void => {
  const workspace = pageWorkspace(pageIn(shown), SHOP);
  expect(seen(workspace, families && new Set(families))).toBe(shown);
};

const tooltipOf = (page: string, label: string): string => {
  const hint = hintsOf(pageWorkspace(page, SHOP), FILE, undefined, BUT_CAUTIONS).find((one) => one.label === label);
  if (!hint) throw new Error(`no hint ${label}`);
  return hint.tooltip();
};

describe('what came in', () => {
  test('gross less its tare, marked wet, and the guess in grams', () => {
    // 412.36 - 64.83 = 347.53; of that 11 % is 38.2, 16 % is 55.6
    check(`2026-05-04
receive A from own-dredge
  material black-sand
  gross 412.36 g wet on bench, tare tray-3 │ net 347.53 g wet
  expect Au 11..16 % │ ~38..56 g Au`);
  });
  test('a claim of more than the whole gives no grams', () => {
    check(`2026-05-04
receive A 30 g
  claim Au 120 %
  claim Au 70 % Ag 40 %
  claim Au 70 % │ ~21.0 g Au`);
  });

  test('a stamp and a claim are no assay', () => {
    // 38.42 × 14/24 = 22.41, × (14/24 − 0.02) = 21.64; 38.42 × 0.585 = 22.48
    check(`2026-05-04
receive A
  38.42 g on bench
  stamp Au 14 k │ ~22.4 g Au, reckoned as ~21.6 g
  claim Au 58.5 % Ag 9 % │ ~22.5 g Au, ~3.46 g Ag`);
  });
  test('a share of the dry weight says nothing of a wet one', () => {
    check(`2026-05-04
receive A
  900 g wet
  expect Au 24 g/t dry`);
  });
  test('a gross weight alone is no net weight', () => {
    check(`2026-05-04
receive A
  gross 412.36 g on bench │ no net weight: tare not known`);
  });
  test('nor is one whose tare is above it', () => {
    check(`2026-05-04
receive A
  gross 38.42 g on bench, tare 412.36 g │ no net weight: tare above gross`);
  });
  test('sums, means, troy ounces; grams as typed say nothing', () => {
    // 1 lb is 453.592 g and 20 dwt 31.103 g (NIST SP 811): one reading to the pennyweight, so 484.70 is shown to the gram.
    check(`2026-05-04
receive A 1 lb + 20 dwt │ 485 g in all`);
    // 20.11 + 38.05 = 58.16; the mean of 58.16, 58.15, 58.17 is 58.16; 2 ozt of 31.1034768 g (NIST SP 811) are 62.207 g
    check(`2026-05-04
receive A 20.11 + 38.05 g on bench │ 58.16 g in all
receive B 58.16 / 58.15 / 58.17 g on bench │ mean 58.16 g
receive C 2.000 ozt │ = 62.21 g
receive D 58.16 g on bench`);
  });
});

describe('a balance on the first line', () => {
  test('moisture, in grams and per cent', () => {
    // 347.53 - 302.18 = 45.35; / 347.53 = 13.05 %
    check(`2026-05-04
receive A
  gross 412.36 g wet on bench, tare tray-3 │ net 347.53 g wet
dry D1 │ 45.35 g moisture, 13.05 %
  in A │ 347.53 g, carried
  out B 302.18 g on bench`);
  });
  test('what burns is burnt off', () => {
    check(`2026-05-04
receive A 684 g on platform
burn A1 │ 392.6 g burnt off, 57.40 %
  in A 684 g on platform
  out B 291.40 g ash on bench`);
  });
  test('closed, usual, high, more out than in', () => {
    // metal alone loses up to 0.5 %: 0.10 g of 20.00 g
    check(`2026-05-04
receive A 20.00 g on bench
cast C1 │ 0.01 g short, weighing explains it
  in A 20.00 g on bench
  out B 19.99 g bar on bench
cast C2 │ 0.07 g lost (0.35 %), usual
  in B 19.99 g on bench
  out C 19.92 g bar on bench
cast C3 │ 0.92 g missing, usual is up to 0.10 g
  in C 19.92 g on bench
  out D 19.00 g bar on bench
cast C4 │ 0.90 g more out than in
  in D 19.00 g on bench
  out E 19.90 g bar on bench`);
  });
  test('in and out agree', () => {
    // each reading of a 0.01 g scale is good to u = 0.01/√6 = 0.0041 (GUM 4.3.7, at the load and at zero); three: 2·0.0041·√3 = 0.014
    check(`2026-05-04
receive A 20.00 g on bench
split Y1 │ balances within ±0.01 g
  in A 20.00 g on bench
  out B 12.00 g on bench
  out C 8.00 g on bench`);
  });
  test('open: what to weigh', () => {
    check(`2026-05-04
receive A 20.00 g on bench
cast C1 │ 20.00 g in, nothing out yet
  in A 20.00 g on bench
split Y1 │ nothing went in yet
  out B 12.00 g on bench
split Y2 │ open: weigh C and D
  in B 12.00 g on bench
  out C
  out D ?`);
  });
  test('the one unknown is shown where it is missing, and nothing on the first line', () => {
    // 20.00 - 12.00 = 8.00
    check(`2026-05-04
receive A 20.00 g on bench
split Y1
  in A 20.00 g on bench
  out B 12.00 g on bench
  out C ? │ 8.00 g ±0.01 g, by balance`);
  });
  test('ore without its slag', () => {
    check(`2026-05-04
receive A 200.00 g on bench
  material black-sand
melt M1 │ open: weigh the slag
  in A 200.00 g on bench
  add borax-glass 200 g
  out B 60.00 g button on bench`);
  });
  test('a guess is marked', () => {
    check(`2026-05-04
receive A ~60 g
split Y1
  in A │ ~60 g, carried
  out B 12.00 g on bench
  out C ? │ ~48 g ±12 g, by balance`);
  });
  test('a flow in volume and a void say nothing; a plan says what it would if it were done', () => {
    check(`2026-05-04
receive A 20.00 g on bench
part P1
  in A 20.00 g on bench │ Au ~4.96 g
  out B 5.00 g sponge on bench │ Au ~4.96 g ±0.04, a guess
  out L 1.2 L solution
plan cast C1 │ crucible C1
  in B │ 5.00 g, carried · Au ~4.96 g
  out C │ bar 4.99 g · Au ~4.96 g ±0.04, a guess
void part P2
  in B 5.00 g
  out D 9.00 g`);
  });
});

describe('before the heat', () => {
  test('gas from a flux, and room in the crucible', () => {
    // Na2B4O7·10H2O is 381.36 g/mol, its water 180.15: 47.2 % of 50 g are 23.6 g (IUPAC atomic weights)
    // 50 g at 0.85 to 0.96 g/mL take 52 to 59 mL of 100, gold of 19.3 g/mL, half as dense as shot, 1 to 2 mL
    // 20.00 + 50 - 19.99 - 26.3 - 23.6 = 0.1, and 50 g is good to half a gram
    check(`2026-05-04
receive A 20.00 g on bench
  material gold
melt M1 │ 0.1 g short, weighing and gas explain it
  crucible C1 │ 53..61 % full cold
  in A 20.00 g on bench │ Au 20.00 g
  add borax-decahydrate 50 g │ gives off 24 g of gas
  out B 19.99 g button on bench │ Au 19.99 g ±0.02, carried
  out 26.3 g slag on bench`);
  });
  test('a least says something only where it is much', () => {
    // borax glass at 1.0 to 1.3 g/mL: 60 g take 46 mL at least; how much room A takes is not known
    check(`2026-05-04
receive A 20.00 g on bench
melt M1 │ 80.0 g in, nothing out yet
  crucible C1 │ at least 46 % full cold
  in A 20.00 g on bench
  add borax-glass 60 g
melt M2 │ 10.0 g in, nothing out yet
  crucible C1
  in B 5.00 g on bench
  add borax-glass 5 g`);
  });
  test('a crucible too small is said first', () => {
    const page = `2026-05-04
receive A 20.00 g on bench
  material gold
melt M1, crucible C1
  in A 20.00 g on bench
  add borax-decahydrate 90 g`;
    const hint = hintsOf(pageWorkspace(page, SHOP), FILE).find(({ label }) => label.includes('full'))!;
    expect(hint.label).toBe('95..108 % full cold, over 75 %');
    expect(hint.tooltip()).toContain('Take a larger crucible');
    // what did not fit on the line is in the tooltip
    expect(hint.tooltip()).toContain('**110.0 g in, nothing out yet**');
  });
});

describe('cupellation', () => {
  test('base metal gone, and gold plus silver before', () => {
    // 52.36 - 49.02 = 3.34; 49.02/52.36 = 93.62 %; the cupel 182.95 - 128.12 = 54.83; 52.36 + 52.04 - 49.02 = 55.38
    check(`2026-05-04
receive A 52.36 g on bench
cupel K1, on bench │ 3.34 g base metal gone, Au+Ag 93.62 %
  cupel-body cement-3, before 128.12 g, after 182.95 g │ 54.83 g gained, 47..60 g expected
  in A 52.36 g │ Au+Ag 49.4 g
  add lead 52.04 g
  out B 49.02 g bead │ Au+Ag 48.7 g ±0.4, inferred`);
  });
  test('silver added for inquarting is not counted as what was there', () => {
    // the bead 15.00 g holds 10.00 g of added silver: 5.00 of 6.00 g
    check(`2026-05-04
receive A 6.00 g on bench
cupel K1, on bench │ 1.00 g base metal gone, Au+Ag 83.3 %
  in A 6.00 g │ Au+Ag 5.1 g
  add silver 10.00 g
  add lead 20 g on platform
  out B 15.00 g bead │ Au+Ag 14.89 g ±0.13, inferred`);
  });
  test('a bead that is assayed holds what its assay says', () => {
    // 48.00 g at 95 %: 45.6 of 50 g; the 2.00 g that are gone are weighed
    const page = `2026-05-04
receive A 50.00 g on bench
cupel K1, on bench
  in A 50.00 g
  add lead 100 g
  out B 48.00 g bead
assay B by fire
  Au 60.0 ±0.1 % standard, Ag 35.0 ±0.1 % standard`;
    const hint = hintsOf(pageWorkspace(page, SHOP), FILE).find(({ label }) => label.includes('base metal gone'))!;
    expect(hint.label).toBe('2.00 g base metal gone, Au+Ag 91.2 %');
    expect(hint.tooltip()).toContain(
      'which holds 45.60 g ±0.14 of them by its assay: 45.60 g ±0.14, 91.2 % of what went in',
    );
  });
  test('a bead heavier than its button still holds lead', () => {
    check(`2026-05-04
receive A 6.00 g on bench
cupel K1, on bench │ bead 0.50 g heavier than what went in
  in A 6.00 g
  add lead 20 g on platform
  out B 6.50 g bead │ Au+Ag 6.45 g ±0.06, inferred`);
  });
});

describe('hand-overs', () => {
  test('the same figure again says nothing, a difference says what it is', () => {
    check(
      `2026-05-04
receive A 61.37 g on bench
cast C1
  in A 61.38 g on bench │ 0.01 g more, weighing explains it
  out B 61.30 g bar on bench
cast C2
  in B 61.30 g on bench
  out C 61.20 g bar on bench
cast C3
  in C 62.10 g on bench │ 0.90 g more, likely 61.20 g here
  out D 61.15 g bar on bench`,
      ['handover'],
    );
  });
  test('a state word says why', () => {
    check(
      `2026-05-04
receive A 61.37 g wet on bench
magnet G1
  in A 58.02 g dry on bench │ 3.35 g less, it has dried since
  out B 58.00 g on bench
weigh B 58.01 g on bench │ 0.01 g more, weighing explains it`,
      ['handover'],
    );
  });
  test('what is left of a lot, part by part', () => {
    // 58.16 - 20.00 = 38.16; - 2.01 = 36.15; - 2.03 = 34.12
    check(
      `2026-05-04
receive A 58.16 g on bench
cast C1
  in 20.00 g of A on bench │ 38.16 g of A left
  out B 19.99 g bar on bench
sample A, on bench
  out Q1 2.01 g drillings │ 36.15 g of A left
  out Q2 2.03 g drillings │ 34.12 g of A left
cast C2
  in A │ 34.12 g, carried
  out D 34.10 g bar on bench`,
      ['handover'],
    );
  });
});

describe('tooltips', () => {
  const PAGE = `2026-05-04
receive A 20.00 g on bench
cast C1
  in A
  out B 19.00 g bar on bench`;
  const LABEL = '1.00 g missing, usual is up to 0.10 g';

  test('the verdict, the sum line by line, what it rests on, what to do', () => {
    expect(
      tooltipOf(PAGE, LABEL),
    ).toBe(`1.00 g is missing in cast C1, more than such a step usually loses (up to 0.10 g).

\`\`\`text
+ in A             20.00 g ±0.01  carried
- out B            19.00 g ±0.01
= unaccounted for   1.00 g ±0.01
\`\`\`

Usual: metal alone: under 0.5 % "not unusual" for karat scrap, a refiner's answer on a metal-finishing forum.

Weighed, but A carried from before.

Look for prills, a skull in the crucible, slag not weighed, a spill; or for a slip of the pen.`);
  });
  test('names act as nothing but themselves', () => {
    const page = PAGE.replaceAll('C1', '"[x](command:boo) <b> `"')
      .replaceAll('in A', 'in "A```\u202e"')
      .replace('receive A', 'receive "A```\u202e"');
    const tooltip = tooltipOf(page, LABEL);
    expect(tooltip).toContain('cast \\[x\\](command:boo) \\<b\\> \\`');
    expect(tooltip).toContain('\n````text\n+ in A```\\u{202e}');
    expect(tooltip).not.toContain('\u202e');
  });
});

describe('which hints are asked for', () => {
  const PAGE = `2026-05-04
receive A 20.00 g on bench
  stamp Au 14 k
cast C1
  in A
  out B 19.99 g bar on bench`;

  test('families', () => {
    const labels = (...families: HintFamily[]) =>
      hintsOf(pageWorkspace(PAGE, SHOP), FILE, undefined, new Set(families)).map(({ label }) => label);
    expect(labels('receive')).toEqual(['~11.7 g Au, reckoned as ~11.3 g']);
    expect(labels('melt')).toEqual(['0.01 g short, weighing explains it']);
    expect(labels('handover')).toEqual(['20.00 g, carried']);
    expect(labels()).toEqual([]);
  });
  test('a level: what is wrong; what was made of what was done; what is good to know', () => {
    const page = `${PAGE.replace('in A', 'in A 18.00 g on bench')}\n\ncast C2\n  in B\n  out D 19.95 g bar on bench`;
    const labels = (level: HintLevel, of = page) =>
      hintsOf(pageWorkspace(of, SHOP), FILE, undefined, { has: () => true, level }).map(({ label }) => label);
    const wrong = ['1.99 g more out than in', '2.00 g less than it left with'];
    const [gold, loss] = ['Au ~10.1 g ±1.3, a guess', '0.04 g lost (0.20 %), usual'];
    expect(labels('problems')).toEqual(wrong);
    expect(labels('results')).toEqual([...wrong, gold, loss, '19.99 g, carried', gold]);
    expect(labels('all')).toEqual([
      '~11.7 g Au, reckoned as ~11.3 g',
      ...wrong,
      gold,
      loss,
      '19.99 g, carried · Au ~10.1 g',
      gold,
    ]);
    // Cautions are not meant by it.
    expect(labels('problems', `${page}\n\ncupel K1\n  in D\n  add lead 40 g`)).toEqual([
      ...wrong,
      expect.stringContaining('lead fume'),
    ]);
  });
  test('a range of offsets', () => {
    const workspace = pageWorkspace(PAGE, SHOP);
    const at = PAGE.indexOf('  in A');
    expect(hintsOf(workspace, FILE, { start: at, end: at + 6 }).map(({ label }) => label)).toEqual([
      '20.00 g, carried · Au ~11.3 g',
    ]);
    expect(hintsOf(workspace, 'other.melt')).toEqual([]);
  });
});

/** Pages made at random, and the same pages cut and mixed up. */
const hostile = (): string[] => {
  const random = seeded(7);
  const pages = [...makeJournal(600, 2, 3).values()];
  const cut = Array.from({ length: 60 }, () => {
    const page = pages[random.whole(0, 1)]!;
    const start = random.whole(0, page.length - 500);
    const middle = start + random.whole(0, 400);
    return page.slice(start, middle) + page.slice(middle + random.whole(1, 9), start + 500);
  });
  return [...pages, ...cut];
};

test('one hint to a line, at its end, at most 40 characters, whatever is on the page', () => {
  for (const text of hostile()) {
    const workspace = workspaceOf({ [FILE]: text, 'workshop.yaml': WORKSHOP });
    const hints = hintsOf(workspace, FILE);
    const offsets = hints.map(({ offset }) => offset);
    expect(new Set(offsets).size).toBe(offsets.length);
    expect([...offsets].sort((a, b) => a - b)).toEqual(offsets);
    for (const { offset, label, tooltip } of hints) {
      expect(label.length).toBeLessThanOrEqual(40);
      expect(label).not.toMatch(/NaN|undefined|Infinity/);
      expect(tooltip()).not.toMatch(/NaN|undefined|Infinity/);
      expect([undefined, '\n']).toContain(text[offset]);
    }
  }
});

test('where a weight changed between two entries and that is accepted, nothing is said of metal too much or missing', () => {
  const page = `2026-05-04
receive A 19.60 g
assay A by fire
  Au 89.00 ±0.05 %
melt M2
  in A 19.10 g
  # accepted weight-changed: pickled, lost its slag skin
  add borax-glass 5 g
  out C 19.05 g button
  out 5 g slag
assay C by fire
  Au 91.20 ±0.05 %
`;
  const labels = hintsOf(pageWorkspace(page), FILE).map(({ label }) => label);
  expect(labels.filter((label) => /too much|missing/.test(label))).toEqual([]);
  const agreeing = page.replace('19.10 g', '19.60 g').replace('19.05', '19.55');
  const said = hintsOf(pageWorkspace(agreeing), FILE).map(({ label }) => label);
  expect(said).toContainEqual(expect.stringMatching(/Au too much/));
});
