/** What is written in the first hours, as it is said elsewhere: one finding each, and the journal's own way where it is plain. */
import { describe, expect, test } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { fixed, pageWorkspace } from '../support/workspace';

/** Code and place of what is found on the page, and its last line after the first fix. */
const seen = (body: string): (string | undefined)[] => {
  const workspace = pageWorkspace(`2026-07-01\n${body}`);
  const found = findingsOf(workspace, 'page.melt').filter(({ code }) => code !== 'unknown-lot');
  const mended = found[0]?.fixes?.[0] ? fixed(workspace, found[0]).split('\n').at(-1)!.trim() : undefined;
  return [...found.map(({ code }) => code), mended];
};
const says = (body: string): string =>
  findingsOf(pageWorkspace(`2026-07-01\n${body}`), 'page.melt')
    .map((finding) => finding.says)
    .join(' ');

describe('figures written otherwise', () => {
  test.each([
    ['receive A 300 µg', 'unknown-unit', 'receive A 0.300 mg'],
    ['receive A 300 μg', 'unknown-unit', 'receive A 0.300 mg'],
    ['receive A 1e3 g', 'odd-number', 'receive A 1000 g'],
    ['receive A 1.5E-3 kg', 'odd-number', 'receive A 0.0015 kg'],
    ['receive A ½ ozt', 'odd-number', 'receive A 0.5 ozt'],
    ['receive A 1½ ozt', 'odd-number', 'receive A 1.5 ozt'],
    ['receive A 1 ¼ ozt', 'odd-number', 'receive A 1.25 ozt'],
    ['receive A 1/2 ozt', 'odd-number', 'receive A 0.5 ozt'],
    ['receive A 1 1/2 ozt', 'odd-number', 'receive A 1.5 ozt'],
    ['receive A ⅓ ozt', 'odd-number', undefined],
    ["receive A 12'345.6 g", 'odd-number', 'receive A 12345.6 g'],
    ['receive A 1 234.5 g', 'odd-number', 'receive A 1234.5 g'],
    ['receive A about 20 g', 'stray-part', 'receive A ~20 g'],
    ['receive A +20.00 g', 'odd-number', 'receive A 20.00 g'],
    ['receive A (20.00 g)', 'odd-character', undefined],
    ['receive A 2 0.00 g', 'odd-number', undefined],
  ])('%s', (line, code, mended) => {
    expect(seen(line)).toEqual([code, mended]);
  });

  test('two weighings with blanks round the stroke are repeats still, and a name may look like a number', () => {
    expect(seen('receive A 20.01 / 20.02 g')).toEqual([undefined]);
    expect(seen('receive 1e3 20.02 g')).toEqual([undefined]);
    expect(seen('receive A 3 g\nassay A by fire\n  Au 24 g/t')).toEqual([undefined]);
  });
});

describe('fineness written otherwise', () => {
  test.each([
    ['stamp Au 585', 'missing-unit', 'stamp Au 585 fine'],
    ['claim Au 0.583', 'missing-unit', 'claim Au 58.3 %'],
    ['claim Au 999.9', 'missing-unit', 'claim Au 999.9 fine'],
    ['claim Au 18', 'missing-unit', 'claim Au 18 k'],
    ['claim Au 91.2', 'missing-unit', 'claim Au 91.2 %'],
    ['stamp 585', 'stray-part', 'stamp Au 585 fine'],
    ['stamp 14 k', 'stray-part', 'stamp Au 14 k'],
    ['stamp 925', 'stray-part', 'stamp Ag 925 fine'],
  ])('%s', (line, code, mended) => {
    expect(seen(`receive A 3.00 g\n  ${line}`)).toEqual([code, mended]);
  });

  test('says how', () => {
    expect(says('receive A 3.00 g\n  stamp Au 585')).toBe('585 has no unit. Is it `585 fine`?');
    expect(says('receive A 203.88')).toBe('203.88 has no unit. Is it `203.88 g`?');
  });
});

describe('lines that run together', () => {
  test('a detail behind the name of its entry', () => {
    const page = '2026-07-01\nreceive A 20.00 g\nmelt M8 in A';
    const workspace = pageWorkspace(page);
    const found = findingsOf(workspace, 'page.melt');
    expect(found.map(({ code, says: words }) => [code, words])).toEqual([
      ['run-on', '`in` begins a detail of its own. Give it a line, or put a comma before it.'],
    ]);
    expect(fixed(workspace, found[0]!)).toBe('2026-07-01\nreceive A 20.00 g\nmelt M8\n  in A');
  });

  test('several of them', () => {
    expect(seen('receive A 20.00 g\ncast C1 in A 20.00 g out B 19.98 g bar')).toEqual([
      'run-on',
      'run-on',
      'in A 20.00 g out B 19.98 g bar',
    ]);
  });

  test('a remark without its comma', () => {
    const page =
      'receive A 20.00 g\ncast C1, crucible C2 before 412.0 g, after 412.1 g\n  in A\n  out B 19.90 g bar keep';
    expect(seen(page)).toEqual(['run-on', 'run-on', 'out B 19.90 g bar keep']);
    expect(seen('receive A 20.00 g\ncast C1\n  in A\n  out B 19.98 g bar keep')).toEqual([
      'run-on',
      'out B 19.98 g bar, keep',
    ]);
  });

  test.each([
    ['receive A 1 ozt 5 dwt', 'stray-part', 'receive A 1 ozt + 5 dwt'],
    ['receive A 20.00 g scrap', 'stray-part', 'receive A 20.00 g, material scrap'],
    ['receive A 20.00 g very old chain', 'stray-part', undefined],
    ['receive A 20.00 g\nmelt M1\n  in A\n  out B 19.98 g bar\n  borax 10 g', 'unknown-word', 'add borax 10 g'],
    ['receive A 2.00 g\nreceive B 2.00 g\nblend J1\n  out C 4.00 g\n  in A + B', 'comma-list', 'in A, in B'],
    ['#fine', 'unknown-verb', undefined],
  ])('%s', (page, code, mended) => {
    expect(seen(page).filter((one) => one !== 'product-not-weighed')).toEqual([code, mended]);
  });

  test('a kind of product for its name, and once more for its kind', () => {
    const page = 'receive A 22.40 g\ncast C6\n  in A\n  out bar 22.30 g bar';
    expect(seen(page)).toEqual(['name-needs-quotes', 'out "bar" 22.30 g bar']);
  });
});

describe('verbs of the trade that have another name here', () => {
  test.each([
    ['inquart Q1', 'melt Q1', '`inquart` is no verb here. Inquarting is a `melt` with `add silver`.'],
    ['smelt M1', 'melt M1', '`smelt` is no verb. Did you mean `melt`?'],
    ['pour M1', 'cast M1', '`pour` is no verb. Did you mean `cast`?'],
    ['refine M1', undefined, '`refine` is no verb here. Write the steps: `dissolve`, `part`, `drop`, `cupel`.'],
  ])('%s', (line, mended, words) => {
    const page = `${line}\n  in A`;
    expect(says(page)).toContain(words);
    const workspace = pageWorkspace(page);
    const [found] = findingsOf(workspace, 'page.melt');
    expect(found?.fixes?.[0] && fixed(workspace, found).split('\n')[0]).toBe(mended);
  });
});

describe('a weight of nothing', () => {
  test('received', () => {
    expect(says('receive A 0 g')).toBe(
      'A weight of 0 g says that there was nothing. Write `?` for a weight that is still to come.',
    );
    expect(seen('receive A 0.00 g')).toEqual(['nothing-weighed', undefined]);
  });
  test('of a product there is a word for it', () => {
    const page = 'receive A 20.00 g\ncast C1\n  in A\n  out B 19.99 g bar\n  out 0 g slag';
    expect(seen(page)).toEqual(['nothing-weighed', 'out none slag']);
    expect(seen(page.replace('0 g slag', 'none slag'))).toEqual([undefined]);
  });
});

describe('more of the same than anybody reads', () => {
  test('is said twenty times, and then counted', () => {
    const page = `receive A 20.00 g\nmelt M1\n  in A\n${'  stirred well\n'.repeat(500)}  out B 19.98 g bar`;
    const found = findingsOf(pageWorkspace(`2026-07-01\n${page}`), 'page.melt');
    expect(found).toHaveLength(20);
    expect(found.at(-1)!.says).toBe(
      '`stirred` is not known here. A remark begins with `note`. So it is with 480 more in this entry.',
    );
  });
});
