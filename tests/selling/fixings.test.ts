/** Which of a day's prices a settlement is reckoned at: the fixing that was agreed, the one that it names, or the price that was fixed for the shipment. */
import { describe, expect, test } from 'vitest';
import { termLines } from '../../server/reports/selling/terms';
import { findingsOf } from '../../server/rules/findings';
import { openOn } from '../../server/workspace/selling/open';
import { settlementsIn } from '../../server/workspace/selling/settlements';
import type { Workspace } from '../../server/workspace/workspace';
import { pageWorkspace } from '../support/workspace';

const SHOP = `shop: { currency: USD }
parties:
  quay-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98 % }
        price day: settled
`;
const AFTERNOON = `${SHOP}        fixing: afternoon\n`;

const QUOTES = 'quote Au 2500.00 USD/ozt, fixing morning\nquote Au 2510.00 USD/ozt, fixing afternoon\n';

const page = (price: string, { fixed = '', quotes = QUOTES } = {}): string => `2026-05-04
receive A 60.00 g
assay A by fire, corrected
  Au 91.60 %
quote Au 2480.00 USD/ozt
ship V1 to quay-refiner
  in A 60.00 g
${fixed}2026-05-11
${quotes}settle V1
  received 60.00 g, Au 91.60 %
  pays Au 98 %
  price Au ${price}
`;

const told = (text: string, shop: string): readonly string[] =>
  findingsOf(pageWorkspace(text, shop), 'page.melt').map(({ says }) => says);

const verdict = (workspace: Workspace): string => {
  const line = settlementsIn(workspace)[0]!.checked.lines.find(({ subject }) => subject === 'price')!;
  return [line.verdict, line.because].filter(Boolean).join(': ');
};

describe('a fixing of the day', () => {
  // 60 g × 0.916 × 0.98 = 53.8608 g; of 10 USD/ozt that is 17.32 USD.
  const MORNING =
    'They reckon Au at 2500.00 USD/ozt; on 2026-05-11, the agreed day, the afternoon fixing was 2510.00 USD/ozt. It costs you 17.32 USD. It is that of the morning fixing.';

  test('that the terms name holds, and no other of that day', () => {
    expect(told(page('2510.00 USD/ozt'), AFTERNOON)).toEqual([]);
    expect(told(page('2500.00 USD/ozt'), AFTERNOON)).toEqual([MORNING]);
    const { terms } = settlementsIn(pageWorkspace(page('2510.00 USD/ozt'), AFTERNOON))[0]!;
    expect(termLines(terms!)).toContain('the afternoon fixing of that day');
  });

  test('that the terms do not name may be any', () => {
    expect(told(page('2500.00 USD/ozt'), SHOP)).toEqual([]);
    expect(told(page('2510.00 USD/ozt'), SHOP)).toEqual([]);
    expect(told(page('2505.00 USD/ozt'), SHOP)).toHaveLength(1);
  });

  test('that their sheet names is the one that it is held against', () => {
    expect(told(page('2510.00 USD/ozt, fixing afternoon'), SHOP)).toEqual([]);
    expect(told(page('2500.00 USD/ozt, fixing afternoon'), SHOP)).toEqual([MORNING]);
    // Nobody wrote that one: it may be any.
    expect(told(page('2500.00 USD/ozt, fixing noon'), SHOP)).toEqual([]);
  });

  test('that was agreed and is not quoted leaves the price unchecked, unless it is far off', () => {
    const quotes = 'quote Au 2500.00 USD/ozt, fixing morning\n';
    expect(verdict(pageWorkspace(page('2490.00 USD/ozt', { quotes }), AFTERNOON))).toBe(
      'unchecked: no price of that fixing',
    );
    expect(told(page('2400.00 USD/ozt', { quotes }), AFTERNOON)).toHaveLength(1);
  });

  test('is corrected like any other name', () => {
    const wrong = 'quote Au 2510.00 USD/ozt, fixing aftrenoon\n';
    const mended = `${page('2510.00 USD/ozt', { quotes: wrong })}correct quote Au, fixing afternoon was aftrenoon because a slip\n`;
    expect(verdict(pageWorkspace(mended, AFTERNOON))).toBe('agrees');
  });
});

describe('a price that was fixed for a shipment', () => {
  const fixed = '2026-05-06\nmore ship V1\n  price Au 2486.00 USD/ozt, fixing "10:30"\n';

  test('holds in place of that of the day', () => {
    expect(told(page('2486.00 USD/ozt', { fixed }), AFTERNOON)).toEqual([]);
    // 24 USD/ozt of 53.8608 g.
    expect(told(page('2510.00 USD/ozt', { fixed }), AFTERNOON)).toEqual([
      'They reckon Au at 2510.00 USD/ozt; for V1 it was fixed on 2026-05-06 at 2486.00 USD/ozt. It is 41.56 USD in your favour.',
    ]);
  });

  test('holds whatever the terms say of the day, and where they say nothing', () => {
    const noDay = SHOP.replace('        price day: settled\n', '');
    expect(verdict(pageWorkspace(page('2486.00 USD/ozt', { fixed }), noDay))).toBe('agrees');
    expect(verdict(pageWorkspace(page('2490.00 USD/ozt', { fixed }), noDay))).toBe('differs');
  });

  test('in another currency needs its rate', () => {
    const euros = fixed.replace('2486.00 USD', '2000.00 EUR');
    expect(verdict(pageWorkspace(page('2500.00 USD/ozt', { fixed: euros }), SHOP))).toBe(
      'unchecked: no price of that day',
    );
    const withRate = euros.replace('more ship', 'quote EUR 1.25 USD\nmore ship');
    expect(verdict(pageWorkspace(page('2500.00 USD/ozt', { fixed: withRate }), SHOP))).toBe('agrees');
  });

  test('does not fall with the market while nobody has paid', () => {
    const shipped = page('', { fixed }).split('settle V1')[0]!;
    const open = (text: string) => openOn(pageWorkspace(text, SHOP), '2026-05-11')[0]!;
    expect(open(shipped).fixed).toBe(true);
    // 53.8608 g at 2486 / 31.1034768.
    expect(open(shipped).best!.payout.total.amount.toString()).toBe('4304.92');
    expect(open(shipped.replace('  price Au 2486.00 USD/ozt', '  hand AB')).fixed).toBe(false);
  });
});
