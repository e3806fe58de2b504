/** What is offered in the workshop file at `‸`. */
import { describe, expect, test } from 'vitest';
import { completionsAt } from '../../server/features/completion';
import { KEYS, SECTIONS } from '../../server/workshop/keys';
import { workspaceOf } from '../support/workspace';

const PAGE = `2026-05-04
receive A1 from high-fell
  61.37 g on bench
melt M1, crucible C9, furnace F1
  in A1 61.37 g
  out B1 58.16 g button
`;

const offered = (marked: string) => {
  const offset = marked.indexOf('‸');
  const text = marked.replace('‸', '');
  const workspace = workspaceOf({ 'workshop.yaml': text, 'may.melt': PAGE });
  const { items, ofWords } = completionsAt(workspace, 'workshop.yaml', offset, '2026-05-05');
  return { items, ofWords, text, labels: items.map(({ label }) => label) };
};

const written = (marked: string, label: string): string => {
  const { items, text } = offered(marked);
  const item = items.find((one) => one.label === label)!;
  return text.slice(0, item.replace.start) + (item.text ?? item.label) + text.slice(item.replace.end);
};

describe('in the workshop file', () => {
  test('sections that are not there yet, with what they mean', () => {
    const { labels, items } = offered('shop:\n  name: Tarn End\n‸');
    expect(labels).toEqual(SECTIONS.map(({ section }) => section).filter((one) => one !== 'shop'));
    expect(items[0]?.detail).toBe('What we weigh on, named after `on`.');
    expect(written('shop:\n  name: Tarn End\nsca‸', 'scales')).toBe('shop:\n  name: Tarn End\nscales:');
  });

  test('keys of a section, of a thing and of terms, without those that stand there', () => {
    const keys = (owner: string, ...but: string[]) =>
      KEYS.filter((row) => row.in === owner && !but.includes(row.key)).map(({ key }) => key);
    expect(offered('shop:\n  name: Tarn End\n  ‸\n  currency: USD\n').labels).toEqual(keys('shop', 'name', 'currency'));
    expect(offered('scales:\n  bench:\n    division: 0.01 g\n    ‸\n').labels).toEqual(keys('scales', 'division'));
    const terms = 'parties:\n  harbour-refiner:\n    role: refiner\n    terms:\n      2026-01-01:\n        ‸';
    expect(offered(terms).labels).toEqual(keys('terms'));
  });

  test('names that the journal speaks of and the file does not have', () => {
    expect(offered('crucibles:\n  C4: 250 mL\n  ‸').labels).toEqual(['C9']);
    expect(offered('scales:\n  ‸').labels).toEqual(['bench']);
    expect(offered('furnaces:\n  F1: 3 kW\n  ‸').labels).toEqual([]);
    expect(offered('parties:\n  ‸').labels).toEqual(['high-fell']);
  });

  test('the words that a value may be', () => {
    expect(offered('parties:\n  high-fell: ‸').labels).toContain('customer');
    expect(offered('scales:\n  bench:\n    class: ‸').labels).toEqual(['I', 'II', 'III', 'IIII']);
    expect(offered('scales:\n  bench:\n    verified: y‸').labels).toEqual(['yes', 'no']);
    expect(written('scales:\n  bench:\n    verified: y‸', 'yes')).toBe('scales:\n  bench:\n    verified: yes');
    expect(offered('materials:\n  tarn-sand: ‸').labels).toContain('black-sand');
    expect(offered('recipes:\n  shop-flux:\n    bor‸').labels).toContain('borax-glass');
    expect(offered('limits:\n  usual loss:\n    ‸').labels).toContain('melt');
    // Behind a colon they are shown unasked.
    expect(offered('parties:\n  high-fell: ‸').ofWords).toBe(false);
    expect(offered('parties:\n  ‸').ofWords).toBe(true);
  });

  test('nothing in a comment, behind free text, or where the indents do not go together', () => {
    for (const text of [
      '# sc‸',
      'shop:\n  name: ‸',
      'shop:\n  name: T # ‸',
      'nonsense:\n  ‸',
      '  ‸',
      'shop:\n name\n    ‸',
    ])
      expect(offered(text).labels).toEqual([]);
  });
});
