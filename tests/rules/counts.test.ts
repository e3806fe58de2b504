/** What a stock-take must speak of, and what it cannot find. */
import { describe, expect, test } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { withTexts } from '../../server/workspace/update';
import { pageWorkspace, workspaceOf } from '../support/workspace';

const says = (page: string): string[] =>
  findingsOf(pageWorkspace(page), 'page.melt').map(({ code, says: words }) => `${code}: ${words}`);

const BOX = 'receive A 20.00 g, at strongbox\nreceive B 30.00 g, at strongbox\nassay B by xrf\n  Au 56 %\n';
const COUNT = '\n2026-05-08\ncount strongbox\n  found A 20.00 g';
const MISSED =
  'not-counted: B should be in strongbox, and is neither found nor missing here. Look for it, and write which.';

describe('a stock-take', () => {
  test('names what should be there and is neither found nor missing', () => {
    expect(says(`2026-05-04\n${BOX}${COUNT}`)).toEqual([MISSED]);
    expect(says(`2026-05-04\n${BOX}${COUNT}\n  missing B`)).toEqual([]);
    expect(says(`2026-05-04\n${BOX}${COUNT}\n  found B`)).toEqual([]);
  });

  test.each([
    ['went into a step before', 'cast C1\n  in B 30.00 g\n  out D 29.99 g bar'],
    ['was shipped', 'ship V1 to moor-refiner\n  in B 30.00 g'],
    ['was moved since', 'weigh B 30.00 g, at drawer'],
    ['was missed at an earlier count', '2026-05-06\ncount strongbox\n  found A\n  missing B'],
  ])('does not ask for what %s', (_, then) => {
    expect(says(`2026-05-04\n${BOX}${then}\n${COUNT}`)).toEqual([]);
  });

  test('does not ask for what stands elsewhere, nowhere that was said, or comes only later', () => {
    const others = 'receive A 20.00 g, at strongbox\nreceive C 5.00 g, at drawer\nreceive D 7.00 g';
    expect(says(`2026-05-04\n${others}\n${COUNT}\nreceive E 9.00 g, at strongbox`)).toEqual([]);
  });

  test('may be written in two goes on one day', () => {
    expect(says(`2026-05-04\n${BOX}${COUNT}\nmore count strongbox\n  found B 30.00 g`)).toEqual([]);
    expect(says(`2026-05-04\n${BOX}${COUNT}\ncount strongbox\n  found B 30.00 g`)).toEqual([]);
  });

  test('follows a lot under its new name', () => {
    expect(says(`2026-05-04\n${BOX}relabel B to B2\n${COUNT}`)).toEqual([MISSED.replace('B should', 'B2 should')]);
    expect(says(`2026-05-04\n${BOX}relabel B to B2\n${COUNT}\n  found B2 30.00 g`)).toEqual([]);
  });

  test('of no place, and one that is still empty, asks for nothing', () => {
    expect(says(`2026-05-04\n${BOX}\n2026-05-08\ncount\n  found A 20.00 g`)).toEqual([]);
    expect(says(`2026-05-04\n${BOX}\n2026-05-08\ncount strongbox`)).toEqual([]);
  });

  test('is looked at again when a lot on another page comes or goes', () => {
    const start = workspaceOf({ 'a.melt': `2026-05-04\n${BOX}`, 'b.melt': COUNT.trimStart() });
    const codes = (of: typeof start) => findingsOf(of, 'b.melt').map(({ code }) => code);
    expect(codes(start)).toEqual(['not-counted']);
    const sold = withTexts(start, new Map([['c.melt', '2026-05-05\nship V1 to moor-refiner\n  in B 30.00 g']]));
    expect(codes(sold)).toEqual([]);
    expect(codes(withTexts(sold, new Map([['c.melt', undefined]])))).toEqual(['not-counted']);
  });

  test('that finds a lot which was shipped says so', () => {
    const page = (then: string) =>
      `2026-05-04\n${BOX}ship V1 to moor-refiner\n  in B 30.00 g\n${then}${COUNT}\n  found B 30.00 g`;
    const found =
      'lot-used-up: B left in ship V1. It is found here all the same: is it another lot, or did it come `back`?';
    expect(says(page(''))).toEqual([found]);
    expect(says(page('sell B to moor-refiner for 3000 USD\n'))).toEqual([found]);
    expect(says(page('more ship V1 to moor-refiner\n  back B 30.00 g\n'))).toEqual([]);
  });

  test('that finds a lot which its parts have used up says so, and doubts no weight for it', () => {
    const parts = (first: string): string =>
      `2026-05-04\nreceive B 30.00 g\ncast R1\n  in ${first} of B\n  out D 10.00 g bar\ncast R2\n  in 20.00 g of B\n  out E 20.00 g bar\n`;
    const found = '2026-05-08\ncount strongbox\n  found B 5.00 g';
    const gone =
      'lot-used-up: B was used up in cast R2. It is found here all the same: correct that entry, or name the lot that this is.';
    for (const first of ['10.00 g', '9.99 g']) {
      const page = pageWorkspace(parts(first) + found);
      expect(findingsOf(page, 'page.melt').map(({ code, says: words }) => `${code}: ${words}`)).toEqual([gone]);
    }
    // What weighing explains is left.
    expect(says(parts('9.99 g') + found.replace('5.00', '0.01'))).toEqual([]);
  });

  test('that finds a lot which was used up says where it went, and what to mend', () => {
    const cast = 'cast R1\n  in B 30.00 g\n  out R1b 29.98 g bar, at drawer\n';
    const found =
      'lot-used-up: B was used up in cast R1. It is found here all the same: correct that entry, or name the lot that this is.';
    expect(says(`2026-05-04\n${BOX}${cast}${COUNT}\n  found B 30.00 g`)).toEqual([found]);
  });

  test('names both places of it', () => {
    const page = pageWorkspace(`2026-05-04\n${BOX}cast R1\n  in B\n  out R1b 29.98 g bar${COUNT}\n  found B 30.00 g`);
    const [one] = findingsOf(page, 'page.melt');
    expect(one?.related?.map(({ says: text }) => text)).toEqual(['the whole of B went in here']);
  });

  test('that finds a lot by its old name asks for the new one', () => {
    expect(says(`2026-05-04\n${BOX}relabel B to B2\n${COUNT}\n  found B 30.00 g`)).toContain(
      'lot-used-up: B got another name in relabel B. It is B2 now. It is found here all the same: correct that entry, or name the lot that this is.',
    );
  });

  test('may find what was thrown away or missed before', () => {
    expect(says(`2026-05-04\n${BOX}discard B\n${COUNT}\n  found B 30.00 g`)).toEqual([]);
  });

  test('may find what was sold and not yet fetched', () => {
    const sold = 'sell B to moor-refiner for 3000 USD\n';
    expect(says(`2026-05-04\n${BOX}${sold}${COUNT}\n  found B 30.00 g`)).toEqual([]);
    expect(says(`2026-05-04\n${BOX}${sold}ship V1 to moor-refiner\n  in B 30.00 g`)).toEqual([]);
  });
});
