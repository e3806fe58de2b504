/** What is usually lost, on the verb: by the trade with its source, by the workshop file, by this journal. */
import { describe, expect, it } from 'vitest';
import { BALANCES } from '../../server/engine/usual';
import { usualOf, usualTable } from '../../server/engine/usual-table';
import { hoverAt } from '../../server/features/hover';
import { wayOf } from '../support/plan';
import { pageWorkspace } from '../support/workspace';

const PAGE = '2026-06-01\nreceive A 50.00 g\nwash W1\n  in A\n  out B 49.95 g\n';

const onVerb = (page: string, workshop?: string): string =>
  hoverAt(pageWorkspace(page, workshop), 'page.melt', page.indexOf('wash W') + 1)!.markdown;

describe('the usual loss', () => {
  it('stands in the hover on the verb, with its source', () => {
    expect(onVerb(PAGE)).toContain('0..0.3 %');
    expect(onVerb(PAGE)).toContain('common practice, no source');
  });

  it('by the workshop file', () => {
    expect(onVerb(PAGE, 'limits:\n  usual loss:\n    wash: 0..0.1 %\n')).toContain(
      'By the workshop file: wash 0..0.1 %.',
    );
  });

  it('by what earlier steps lost', () => {
    const earlier = Array.from(
      { length: 9 },
      (_, at) => `receive L${at} 50.00 g\n  material scrap\nwash V${at}\n  in L${at}\n  out L${at}w 49.9${at} g\n`,
    ).join('');
    const page = `2026-05-01\n${earlier}\n${PAGE.replace('50.00 g\n', '50.00 g\n  material scrap\n')}`;
    expect(onVerb(page)).toMatch(/By this journal: 9 earlier washes of this kind lost/);
  });

  it('of a plan too is what earlier steps lost', () => {
    const heats = Array.from(
      { length: 9 },
      (_, at) =>
        `receive L${at} 100.00 g\n  material scrap\nmelt M${at}\n  in L${at}\n  add borax-glass 2.0 g\n  out B${at} 99.8${at} g button\n  out S${at} 2.00 g slag\n`,
    ).join('');
    const plan = 'receive A 100.00 g\n  material scrap\nplan melt P1\n  in A\n  add borax-glass 2.0 g\n';
    expect(wayOf(`2026-05-01\n${heats}${plan}`, 'expected loss')).toContain('9 earlier melts of this kind lost');
    expect(wayOf(`2026-05-01\n${plan}`, 'expected loss')).toContain('common practice, no source');
  });

  it('has a row with a reason for every verb that balances', () => {
    for (const { verb, kind } of BALANCES) if (kind !== 'sample') expect(usualOf(verb).length, verb).toBeGreaterThan(0);
    for (const { why, low, high } of usualTable()) {
      expect(why.length).toBeGreaterThan(5);
      expect(low).toBeLessThanOrEqual(high);
    }
  });
});
