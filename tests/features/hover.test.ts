/** What is told of the thing under the pointer; `‸` stands in the page before the character that it is on. */
import { describe, expect, test } from 'vitest';
import { hoverAt } from '../../server/features/hover';
import { makeJournal, WORKSHOP } from '../support/journal';
import { pageWorkspace, workspaceOf } from '../support/workspace';

const SHOP = `scales:
  bench: { division: 0.01 g, repeatability: 0.006 g }
containers:
  tray-3: 64.83 g
crucibles:
  C4: { volume: 400 mL, material: clay-graphite }
recipes:
  shop-flux: { borax-glass: 5 parts, soda-ash: 3 parts, silica: 2 parts }
measures:
  spoon: 14 g
parties:
  harbour-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98.5 % }
        charges: { refining: 0.30 USD/g of melted }
`;

const FILE = 'page.melt';

interface Told {
  readonly word: string;
  readonly first: string;
  readonly markdown: string;
}

const tellOf = (marked: string): Told | undefined => {
  const offset = marked.indexOf('‸');
  const page = marked.replace('‸', '');
  const hover = hoverAt(pageWorkspace(page, SHOP), FILE, offset);
  if (!hover) return undefined;
  const { range, markdown } = hover;
  return { word: page.slice(range.start, range.end), first: markdown.split('\n')[0]!, markdown };
};

/** The word that is meant, and the first line. */
const check = (marked: string, word: string, first: string): string => {
  const told = tellOf(marked);
  expect([told?.word, told?.first]).toEqual([word, first]);
  return told!.markdown;
};

const PAGE = `2026-05-04  dry and windy

receive TE-31 from own-dredge
  material black-sand
  gross 412.36 g wet on bench, tare tray-3
  expect Au 11..16 %

dry D12
  in TE-31
  08:10 oven 110 °C
  09:30 out
  out TE-31d 302.18 g on bench

2026-05-05
cast C1, crucible C4
  in 20.00 g of TE-31d on bench
  out B1 21.90 g bar on bench, at strongbox, owner high-fell
`;

/** The page with the mark before the first place where a text stands. */
const at = (sought: string, page = PAGE): string => {
  const index = page.indexOf(sought);
  if (index < 0) throw new Error(`no ${sought}`);
  return `${page.slice(0, index)}‸${page.slice(index)}`;
};

describe('words of the language', () => {
  test('a verb: its meaning, its slots, what it takes, an example', () => {
    const told = check(at('receive'), 'receive', '**receive** · A lot comes in.');
    expect(told).toContain('`receive LOT [AMOUNT] [from PARTY]`');
    expect(told).toContain('`material` `bought` `expect` `claim` `stamp`');
    expect(told).toContain('```text\nreceive TE-31 from own-dredge, material black-sand, 238.42 g\n```');
  });
  test('a detail, a remark, a lead word, a kind, a state, a prefix, a method', () => {
    check(at('crucible'), 'crucible', '**crucible** · The pot of this heat.');
    check(at('owner'), 'owner', '**owner** · Whose it is.');
    check(at('from'), 'from', '**from** · From whom it comes.');
    check(at('on bench'), 'on', '**on** · The scale it was read on.');
    check(
      at('of TE'),
      'of',
      '**of** · Of which: a part of a lot, the day that is meant, what a charge is reckoned on.',
    );
    check(at('bar'), 'bar', '**bar** · Cast piece.');
    check(at('wet'), 'wet', '**wet** · With its water.');
    check(
      '‸plan melt M1',
      'plan',
      '**plan** · Not yet done: advised on, booked nowhere. Done when the same verb and name stand without it.',
    );
    check('assay A by ‸xrf', 'xrf', '**xrf** · X-ray fluorescence, of the surface.');
  });
  test('at the very end of a word that word is meant', () => {
    check(at('receive').replace('‸receive', 'receive‸'), 'receive', '**receive** · A lot comes in.');
  });
});

describe('names', () => {
  test('a lot: how much is left, and its story', () => {
    expect(check(at('TE-31 '), 'TE-31', '**TE-31** · used up, black-sand')).toBe(`**TE-31** · used up, black-sand

Received from own-dredge on 2026-05-04, black-sand. \\~38..56 g Au by our own guess.  
Weighed: 347.53 g in receive TE-31.  
Into dry D12 on 2026-05-04.  
Holds Au \\~47 g ±10 (\\~14 %, guessed).`);
    // 302.18 - 20.00 = 282.18, two readings of u = hypot(0.01/√6, 0.006) = 0.0073
    const told = check(at('TE-31d'), 'TE-31d', '**TE-31d** · 282.18 g ±0.02 left');
    expect(told).toContain('20.00 g into cast C1 on 2026-05-05.');
  });
  test('a lot: its owner, where it is, what is wrong with its step', () => {
    const told = check(at('B1 21'), 'B1', '**B1** · 21.90 g ±0.01 left, bar');
    expect(told).toContain('Out of cast C1 on 2026-05-05.');
    expect(told).toContain('Owner high-fell, at strongbox.');
  });
  test('a step: its balance and the sum', () => {
    const told = check(at('C1,'), 'C1', '**cast C1** · 1.90 g more out than in');
    expect(told).toContain('= unaccounted for  -1.90 g ±0.02');
    expect(told).toContain('Look for a slip of the pen');
    check('plan melt ‸M1\n  in A', 'M1', '**melt M1** · planned, and booked nowhere until it is done');
  });

  test('a plan that is done says so, and the step shows what was planned beside what was weighed', () => {
    const page = (mark: string, other: string) =>
      `2026-05-04\nreceive A 20.00 g\nplan cast ${mark}C1\n  in A\n  add borax-glass ~2 g\n2026-05-05\ncast ${other}C1\n  in A\n  add borax-glass 2.2 g\n  out B ? g bar  # planned 19.9 g\n`;
    expect(tellOf(page('‸', ''))?.markdown).toBe('**cast C1** · planned, and done on 2026-05-05');
    expect(tellOf(page('', '‸'))?.markdown).toContain(
      ['                 planned  done', 'add borax-glass  ~2 g     2.2 g', 'out B            19.9 g   ? g'].join('\n'),
    );
  });
  test('gear and vessels, from the workshop file', () => {
    check(at('C4'), 'C4', '**C4** · 400 mL, clay-graphite');
    check(at('bench'), 'bench', '**bench** · division 0.01 g, repeats to 0.006 g');
    check(at('tray-3'), 'tray-3', '**tray-3** · tare 64.83 g ±0.006 g');
    check('melt M1\n  furnace ‸F9', 'F9', '**F9** · a furnace that the workshop file does not name.');
  });
  test('materials and recipes', () => {
    // Na2B4O7·10H2O 381.36 g/mol, 10 H2O 180.15: 47.24 % (IUPAC atomic weights)
    const borax = check(
      'melt M1\n  add ‸borax-decahydrate 5 g',
      'borax-decahydrate',
      '**borax-decahydrate** · crystal borax, nearly half water; swells before it fuses',
    );
    expect(borax).toContain('Gives off in the heat, of its own weight: H2O 47.24 %.');
    expect(borax).toContain('Source: formula, IUPAC atomic weights.');
    check(
      'melt M1\n  add ‸shop-flux 5 g',
      'shop-flux',
      '**shop-flux** · borax-glass 50.0 %, soda-ash 30.0 %, silica 20.0 %',
    );
    check(
      'melt M1\n  add ‸moon-dust 5 g',
      'moon-dust',
      '**moon-dust** · neither a built-in material nor one of the workshop file.',
    );
  });
  test('a party with its terms, a metal, a place', () => {
    const told = check('offer A from ‸harbour-refiner', 'harbour-refiner', '**harbour-refiner** · refiner');
    expect(told).toContain('pays Au 98.5 %');
    expect(told).toContain('charge refining: 0.30 USD/g of melted');
    check('assay A by xrf\n  ‸Au 91 %', 'Au', '**Au** · gold');
    check(at('strongbox'), 'strongbox', '**strongbox** · a place where things are kept');
  });
});

describe('figures', () => {
  test('a gross weight: net, in other units, its sum, how good and why', () => {
    // 347.53 g are 11.1733 ozt and 223.47 dwt at 31.1034768 and 1.55517384 g (NIST SP 811)
    const told = check(at('gross 412'), 'gross 412.36 g wet', '**347.53 g ±0.02** · wet');
    expect(told).toContain('11.1733 ozt · 223.467 dwt');
    expect(told).toContain('- tare tray-3   64.83 g');
    expect(told).toContain('Read on bench: division 0.01 g at the load and at zero, repeats to 0.006 g.');
  });
  test('without a scale the last digit is the division; a guess, a mean and a stated spread say so', () => {
    expect(tellOf('receive A ‸58.1 g')!.markdown).toContain(
      'No scale named: its last digit, 0.1 g, is taken for the division.',
    );
    expect(tellOf('receive A ‸~60 g')!.markdown).toContain('A guess, taken good to ±20 %; marked in all that follows.');
    expect(tellOf('receive A ‸58.16 / 58.15 / 58.17 g on bench')!.markdown).toContain('Mean of 3. Read on bench');
    expect(tellOf('receive A ‸58.2 ±0.3 g')!.markdown).toContain(
      '± as written: limits, every value between them as likely as another.',
    );
    check('receive A ‸2 spoon', '2 spoon', '**\\~28 g ±6**');
  });
  test('an unknown weight is what the balance leaves', () => {
    check(
      'receive A 20.00 g on bench\nsplit Y1\n  in A\n  out B 12.00 g on bench\n  out C ‸?',
      '?',
      '**8.00 g ±0.02** · what the balance leaves',
    );
    check('cast C1\n  out ‸none prills', 'none', '**none** · Looked, and there was none.');
  });
  test('shares: per cent, fineness, karat, grams in a tonne', () => {
    // 14/24 = 58.33 %; 91.6 % = 21.98 k; 24 g/t = 0.0024 %
    expect(tellOf('receive A\n  stamp Au ‸14 k')!.markdown).toContain('58.3 % · 583 fine');
    expect(tellOf('assay A by xrf\n  Au ‸91.6 %')!.markdown).toContain('916 fine · 21.98 k');
    expect(tellOf('receive A\n  expect Au ‸24 g/t')!.markdown).toContain('0.0024 %');
    expect(tellOf('receive A\n  expect Au ‸22..30 %')!.markdown).toContain('220..300 fine · 5.3..7.2 k');
    check('assay A by xrf\n  Cu ‸<0.05 %', '<0.05 %', '**\\<0.05 %** · below what the method can tell');
  });
  test('units, prices, temperatures', () => {
    check('receive A 2 ‸ozt', 'ozt', '**ozt** · troy ounce, 31.1034768 g');
    check('receive A 2 ‸spoon', 'spoon', '**spoon** · a measure of this shop, about 14 g');
    // 2480 / 31.1034768 = 79.734 (NIST SP 811)
    check('quote Au ‸2480.00 USD/ozt', '2480.00 USD/ozt', '**2480.00 USD/ozt** · 79.734 USD/g · 79733.85 USD/kg');
    check('assay A by density\n  water 46.30 g ‸17 °C', '17 °C', '**17 °C** · 63 °F');
  });
});

describe('days, times, comments', () => {
  test('a day: what was done on it', () => {
    const told = check(at('2026-05-04'), '2026-05-04  dry and windy', '**2026-05-04** · 2 entries');
    expect(told).toContain('receive TE-31 and dry D12.');
  });
  test('a time: how long after the one above', () => {
    check(at('09:30'), '09:30', '**09:30 on 2026-05-04** · 1 h 20 min after 08:10');
    // 110 °C is 230 °F
    expect(tellOf(at('oven 110'))!.markdown).toContain('110 °C is 230 °F.');
    check(
      '2026-06-02\nmelt M1\n  23:40 charged\n  2026-06-03 ‸00:15 poured',
      '00:15',
      '**00:15 on 2026-06-03** · 35 min after 23:40',
    );
  });
  test('an accepted finding: the page of its rule', () => {
    const told = check(
      'weigh A 5 g  ‸# accepted weight-changed: pickled',
      '# accepted weight-changed: pickled',
      '**weight-changed** · a weight that changed between two entries',
    );
    expect(told).toContain('Accepted here');
    expect(tellOf('weigh A 5 g  ‸# a remark')).toBeUndefined();
  });
  test('nothing on blank lines and in other files', () => {
    expect(tellOf('2026-05-04\n‸\nreceive A 5 g')).toBeUndefined();
    expect(hoverAt(pageWorkspace(PAGE), 'other.melt', 3)).toBeUndefined();
  });
});

test('what a page says acts as nothing: no link, no markup, no hidden character', () => {
  const name = '"[x](command:boo)\u202e<img>"';
  const page = `receive ${name} 20.00 g from ${name}\ncast ${name}\n  in ${name}\n  out ${name} 19.99 g, at ${name}, hand ${name}\n  note ${name}`;
  const workspace = pageWorkspace(page);
  for (let offset = 0; offset < page.length; offset++) {
    const markdown = hoverAt(workspace, FILE, offset)?.markdown ?? '';
    const outsideOfFences = markdown.replace(/(`{3,})text\n[\s\S]*?\n\1/g, '');
    expect(outsideOfFences).not.toMatch(/(?<!\\)\[x|(?<!\\)<img/);
    expect(markdown).not.toContain('\u202e');
  }
});

// 2 × 47.5/60.08 of silica and 3 × 3.65/69.62 of borate over 38.5/61.98 of soda and 26.7/223.2 of litharge.
test('the way to what the bench says of a done step stands over its verb', () => {
  const page =
    '2026-05-04\nreceive Q 50.00 g, material quartz\nmelt M1\n  in Q 50.00 g\n  add bicarbonate 100 g\n  add litharge 75 g\n  add borax-decahydrate 10 g\n  add flour 4.0 g\n  out B 41.20 g button\n  out S 132.00 g slag\n';
  const at = (word: string): string => hoverAt(workspaceOf({ [FILE]: page }), FILE, page.indexOf(word) + 1)!.markdown;
  expect(at('M1')).toContain('The slag is a bisilicate');
  expect(at('M1')).toContain('stands over the verb');
  expect(at('M1')).not.toContain('mol acid');
  expect(at('melt')).toContain('1.74 mol acid / 0.741 mol base oxygen = 2.3');
  expect(at('melt')).toContain('Beringer');
});

test('every place of a page can be asked about', () => {
  const [page] = [...makeJournal(120, 1, 4).values()];
  const workspace = workspaceOf({ [FILE]: page!, 'workshop.yaml': WORKSHOP });
  for (let offset = 0; offset <= page!.length; offset++) {
    const hover = hoverAt(workspace, FILE, offset);
    if (!hover) continue;
    expect(hover.range.start).toBeLessThanOrEqual(offset);
    expect(hover.range.end).toBeGreaterThanOrEqual(offset);
    expect(hover.markdown).not.toMatch(/NaN|undefined|Infinity|\[object/);
    // Over a verb stands the way to every figure of the bench.
    const most = hover.markdown.includes('Taken:') ? 120 : 32;
    expect(hover.markdown.split('\n').length).toBeLessThanOrEqual(most);
  }
});
