import { describe, expect, test } from 'vitest';
import type { LotStory } from '../../server/engine/book';
import { uncertainty } from '../../server/quantity/measured';
import { near } from '../support/cases';
import { bookOf, shopOf } from '../support/entries';

const told = (story: LotStory) => story.events.map(({ kind }) => kind).join(' ');
const left = (story: LotStory) => story.left?.value.toFixed();
const afters = (story: LotStory) => story.events.map(({ after }) => after?.value.toFixed() ?? '?').join(' ');

// Shaped like a clean-up carried to a bead, with other figures.
const CLEAN_UP = `
receive T from own-dredge
  material black-sand
  gross 198.40 g wet on bench, tare tray-2
dry D
  in T
  out Td 161.05 g on bench
melt M
  in Td 161.05 g on bench
  add borax-glass 60 g
  out B 47.30 g button on bench
  out S 172.9 g slag on bench, keep
cupel K
  in B 47.30 g on bench
  add lead 47.0 g
  out Bc 44.12 g bead on bench
assay Bc by xrf
  Au 91.2 %
ship V to harbour-refiner
  in Bc 44.12 g on bench`;

const shop = shopOf({ scales: { bench: '0.01', fine: '0.001' }, tares: { 'tray-2': '18.20' } });

describe('a chain', () => {
  const book = bookOf(CLEAN_UP, shop);
  test.each([
    ['T', 'received used', '180.2 0'],
    ['Td', 'made used', '161.05 0'],
    ['B', 'made used', '47.3 0'],
    ['S', 'made', '172.9'],
    ['Bc', 'made assayed shipped', '44.12 44.12 0'],
  ])('%s', (lot, events, after) => {
    const story = book.story(lot);
    expect([told(story), afters(story), story.births.length]).toEqual([events, after, 1]);
    expect(story.handovers.every(({ explained }) => explained)).toBe(true);
  });
  test('what it is and whether it is gone', () => {
    expect(book.story('T').make).toEqual({ material: 'black-sand', kind: undefined });
    expect(book.story('S').make?.kind).toBe('slag');
    expect([book.story('S').gone, book.story('B').gone]).toEqual([false, true]);
  });
});

describe('hand-overs', () => {
  const between = (first: string, second: string, between = '') =>
    bookOf(`receive A ${first}\n${between}cast C\n  in A ${second}\n  out B 3 g`, shop).story('A').handovers.at(-1)!;

  // 0.36/(0.01/√3) = 62.4: two readings on one scale of 0.01 g, each rounded at load and zero.
  test('two weights of one lot differ', () => {
    const { difference, explained, times, from, to } = between('61.37 g on bench', '61.73 g on bench');
    expect([difference.value.toFixed(), explained]).toEqual(['0.36', false]);
    near(times, 62.35, 0.01);
    expect([from.entry.verb, to.entry.verb]).toEqual(['receive', 'cast']);
  });
  test('one division is no difference', () => expect(between('58.16 g', '58.17 g').explained).toBe(true));
  // u² = (0.01² + 0.001²)/6.
  test('two scales count with both their errors', () => {
    const { difference, explained } = between('58.16 g on bench', '58.154 g on fine');
    expect(explained).toBe(true);
    near(uncertainty(difference), Math.sqrt((0.01 ** 2 + 0.001 ** 2) / 6), 1e-9);
  });
  test('a re-weighing against what samples left', () => {
    const samples = 'sample A\n  out q1 1.50 g drillings\n  out q2 1.25 g drillings\n';
    expect(between('58.16 g', '55.41 g', samples).explained).toBe(true);
    expect(between('58.16 g', '58.16 g', samples).difference.value.toFixed()).toBe('2.75');
  });
  test('a new weight holds from there', () => {
    const story = bookOf('receive A 58.16 g\nweigh A 57.90 g\ncast C\n  in A 57.90 g\n  out B 57.8 g', shop).story('A');
    expect(story.handovers.map(({ explained }) => explained)).toEqual([false, true]);
  });
  test.each([
    ['220.22 g wet', '203.88 g dry', 'moisture'],
    ['58.10 g hot', '58.16 g', 'heat'],
    ['58.16 g hot', '58.10 g', undefined],
    ['58.60 g', '58.16 g clean', 'cleaned'],
    ['58.60 g', '58.16 g', undefined],
  ])('%s, then %s: %s', (first, second, because) => {
    const handover = between(first, second);
    expect([handover.explained, handover.because]).toEqual([false, because]);
  });
  test('a step that gives back its lot under the same name did something to it', () => {
    const story = bookOf(
      'receive A 58.60 g\nwash W\n  in A\n  out A 58.16 g clean\ncast C\n  in A 58.16 g\n  out B 58 g',
    ).story('A');
    expect([told(story), story.births.length, story.handovers.length]).toEqual(['received used continued used', 1, 1]);
    expect(story.handovers[0]!.explained).toBe(true);
  });
});

describe('parts and remains', () => {
  test('parts, samples and what an assay took leave the rest', () => {
    const story = bookOf(`receive A 60.00 g
cast C\n  in 20.00 g of A\n  out B 19.98 g
sample A\n  out q 2.00 g drillings
assay A by fire\n  took 0.50 g\n  Au 90 %`).story('A');
    expect([told(story), afters(story), story.gone]).toEqual([
      'received part-used sampled assayed',
      '60 40 38 37.5',
      false,
    ]);
  });
  test('a part of all empties it; one larger than what is left shows', () => {
    const emptied = bookOf('receive A 60.00 g\ncast C\n  in 60.00 g of A\n  out B 59.9 g').story('A');
    expect([emptied.gone, left(emptied)]).toEqual([true, '0']);
    const over = bookOf('receive A 60.00 g\ncast C\n  in 61.00 g of A\n  out B 59.9 g').story('A');
    expect(over.events[1]!.after!.value.toFixed()).toBe('-1');
  });
  test('metal given back to its lot', () => {
    const story = bookOf('receive A 60.00 g\nsample A\n  out q 2.00 g\nsample A\n  back A 1.50 g').story('A');
    expect([told(story), left(story)]).toEqual(['received sampled returned', '59.5']);
  });
  test('shipped and come back lighter', () => {
    const story = bookOf('receive A 60.00 g\nship V to lab-1\n  in A\nship V to lab-1\n  back A 58.00 g').story('A');
    expect([told(story), left(story), story.gone]).toEqual(['received shipped returned', '58', false]);
    expect(story.handovers.map(({ difference }) => difference.value.toFixed())).toEqual(['-2']);
  });
  test('part discarded, then the rest', () => {
    const story = bookOf('receive S 60.00 g\ndiscard S 20.00 g\ndiscard S').story('S');
    expect([told(story), afters(story), story.gone]).toEqual(['received discarded discarded', '60 40 0', true]);
  });
  test('missing, then found again', () => {
    const story = bookOf('receive A 60.00 g\ncount\n  missing A\ncount\n  found A 60.00 g').story('A');
    expect([told(story), story.gone, left(story)]).toEqual(['received missing found', false, '60']);
    expect(story.handovers).toHaveLength(0);
  });
  test('used twice, and used before it is there', () => {
    const twice = bookOf('receive A 60.00 g\ncast C\n  in A\n  out B 59.9 g\ncast D\n  in A\n  out E 59.9 g').story(
      'A',
    );
    expect([told(twice), twice.events[2]!.before!.value.isZero()]).toEqual(['received used used', true]);
    const early = bookOf('cast C\n  in A\n  out B 59.9 g\nreceive A 60.00 g').story('A');
    expect([told(early), early.events[0]!.before]).toEqual(['used received', undefined]);
  });
});

describe('names', () => {
  test('a new name carries the weight on', () => {
    const book = bookOf('receive A 60.00 g\nrelabel A to G\ncast C\n  in G 59.00 g\n  out B 59 g');
    expect([told(book.story('A')), book.story('A').gone]).toEqual(['received renamed', true]);
    const story = book.story('G');
    expect([told(story), story.births[0]!.weight.ground]).toEqual(['renamed used', 'carried']);
    expect(story.handovers[0]!.difference.value.toFixed()).toBe('-1');
  });
  test('a name given twice has two births', () => {
    expect(bookOf('receive A 60.00 g\nreceive A 20.00 g').story('A').births).toHaveLength(2);
  });
  test('a weight that only the balance knows', () => {
    const book = bookOf(
      'receive A 60.00 g\nsplit Y\n  in A\n  out A1 20.00 g\n  out A2\ncast C\n  in A2\n  out B 39.9 g',
    );
    const [birth] = book.story('A2').births;
    expect([birth!.weight.ground, birth!.weight.mass!.value.toFixed()]).toEqual(['solved', '40']);
    expect(book.step('C').inputs[0]!.mass!.value.toFixed()).toBe('40');
  });
});

describe('prefixes', () => {
  test('plans and voids book nothing', () => {
    expect(told(bookOf('receive A 60.00 g\nplan cast C\n  in A\nvoid discard A').story('A'))).toBe('received');
  });
  test('more of a product adds to it; a weight read late is its weight', () => {
    const found = bookOf('melt M\n  in A 60.00 g\n  out B 59.00 g bar\nmore melt M\n  out B 0.50 g prills').story('B');
    expect([left(found), found.births.length]).toEqual(['59.5', 1]);
    const late = bookOf('dry D\n  in A 60.00 g\n  out B\nmore dry D\n  out B 55.00 g').story('B');
    expect([left(late), late.births.length]).toEqual(['55', 1]);
  });
});

test('owners are those written, or the customer who brought it', () => {
  const place = undefined;
  const parties = new Map([['high-fell', { name: 'high-fell', place, role: 'customer' as const, terms: [] }]]);
  const owner = (text: string) => bookOf(text, { ...shop, parties }).story('A').owner?.name;
  expect(owner('receive A 60.00 g from high-fell')).toBe('high-fell');
  expect(owner('receive A 60.00 g from high-fell\n  bought 900.00 USD')).toBeUndefined();
  expect(owner('receive A 60.00 g, owner ridge')).toBe('ridge');
});
