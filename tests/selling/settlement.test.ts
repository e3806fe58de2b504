/** Settlements held against the journal, line by line: assays, weights, what is left out, totals, currencies. */
import { describe, expect, test } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { settlementsIn } from '../../server/workspace/selling/settlements';
import { settledPage, TERMS_SHOP } from '../support/settlement';
import { pageWorkspace } from '../support/workspace';

const judged = (terms: string, assays: string, settled: string): string => {
  const [one] = settlementsIn(pageWorkspace(settledPage(assays, settled), TERMS_SHOP.replace('TERMS', terms)));
  const line = one!.checked.lines.find(({ subject }) => subject === 'assay')!;
  return `${line.verdict}: ${line.because}${line.verdict === 'differs' ? `, ${line.ours!.times(100)} % settles, ${line.owed!.amount}` : ''}`;
};

describe('their assay', () => {
  test('stands within the splitting limit', () => {
    expect(judged('assay: theirs', '', '89.90 %')).toBe('agrees: splitting limit');
    // 88.2 g are 7089.24, 88.0922 g are 7080.57: at 2500 / 31.1034768 a gram.
    expect(judged('assay: theirs', '', '89.89 %')).toBe('differs: umpire wanted, 90 % settles, 8.67');
  });

  test('in an exchange the mean settles', () => {
    const theirs = 'assay A by fire at quay-refiner, corrected\n  Au 89.92 %';
    expect(judged('assay: exchange', theirs, '89.96 %')).toBe('agrees: mean of both');
    // (90.00 + 89.92) / 2 = 89.96: 0.04 g × 0.98 × 2500 / 31.1034768 = 3.15.
    expect(judged('assay: exchange', theirs, '89.92 %')).toBe('differs: mean of both, 89.96 % settles, 3.15');
  });

  test('beyond the limit an umpire decides, by the rule of the terms', () => {
    const both =
      'assay A by fire at quay-refiner, corrected\n  Au 89.80 %\nassay A by fire at north-lab, umpire\n  Au 89.94 %';
    expect(judged('assay: exchange', both, '89.94 %')).toBe('agrees: umpire');
    expect(judged('umpire: nearest', both, '89.97 %')).toBe('agrees: umpire');
    expect(judged('umpire: middle', both, '89.80 %')).toContain('89.94 % settles');
  });

  test('that is told after the agreed days is bound by the other', () => {
    // Shipped on the 4th, settled on the 11th; theirs is written on the day of the shipment, ours before it.
    const theirs = 'assay A by fire at quay-refiner, corrected\n  Au 89.92 %';
    const terms = (days: string) => `assay: exchange\n        exchange days: ${days}`;
    // They told theirs with their sheet alone, after seven days: 0.10 g × 0.98 × 2500 / 31.1034768 = 7.88.
    expect(judged(terms('5 days'), '', '89.90 %')).toBe('differs: they were late, 90 % settles, 7.88');
    expect(judged(terms('5 days'), '', '90.00 %')).toBe('agrees: they were late');
    expect(judged(terms('7 days'), '', '89.90 %')).not.toContain('late');
    expect(judged(terms('5 days'), theirs, '89.96 %')).toBe('agrees: mean of both');
  });

  test('of our own that is told after the agreed days is bound by theirs', () => {
    const late = settledPage('assay A by fire at quay-refiner, corrected\n  Au 89.92 %', '89.92 %')
      .replace('assay A by fire at beck-lab, corrected\n  Au 90.00 ±0.02 % expanded\n', '')
      .replace('2026-05-11\n', '2026-05-11\nassay A by fire at beck-lab, corrected\n  Au 90.00 ±0.02 % expanded\n');
    const [one] = settlementsIn(
      pageWorkspace(late, TERMS_SHOP.replace('TERMS', 'assay: exchange\n        exchange days: 5 days')),
    );
    const line = one!.checked.lines.find(({ subject }) => subject === 'assay')!;
    expect([line.verdict, line.because]).toEqual(['agrees', 'we were late']);
  });

  test('within the limit an umpire decides nothing', () => {
    const umpire = 'assay A by fire at north-lab, umpire\n  Au 90.20 %';
    expect(judged('assay: theirs', umpire, '89.92 %')).toBe('agrees: splitting limit');
    const both = `assay A by fire at quay-refiner, corrected\n  Au 89.92 %\n${umpire}`;
    expect(judged('assay: exchange', both, '89.96 %')).toBe('agrees: mean of both');
    // Beyond it the umpire's 90.20 settles: 0.31 g × 0.98 × 2500 / 31.1034768 = 24.42.
    expect(judged('assay: theirs', umpire, '89.89 %')).toBe('differs: umpire, 90.2 % settles, 24.42');
  });

  test("nothing is disputed that our own assay's error explains", () => {
    const own = settledPage('', '89.50 %').replace(
      'by fire at beck-lab, corrected\n  Au 90.00 ±0.02 % expanded',
      'by xrf\n  Au 90.0 %',
    );
    const [one] = settlementsIn(pageWorkspace(own, TERMS_SHOP.replace('TERMS', 'assay: theirs')));
    const line = one!.checked.lines.find(({ subject }) => subject === 'assay')!;
    expect([line.verdict, line.because]).toEqual(['unchecked', 'own assay too coarse']);
  });
});

describe('their weights', () => {
  const weights = (received: string, melted: string): string[] => {
    const text = settledPage('', '90.00 %').replace('received 100.00 g', `received ${received} g, melted ${melted} g`);
    const [one] = settlementsIn(pageWorkspace(text, TERMS_SHOP.replace('TERMS', 'melt loss: 0.3 %')));
    return one!.checked.lines
      .filter(({ subject }) => subject === 'received' || subject === 'melted')
      .map(({ subject, verdict, owed }) => `${subject} ${verdict}${owed ? ` ${owed.amount}` : ''}`);
  };
  // A gram at 90 % is 0.9 × 0.98 × 2500 / 31.1034768 = 70.8924 USD.

  test('a weight received that was misread costs nothing where what their melt left is as it may be', () => {
    expect(weights('10.00', '99.90')).toEqual(['received differs 0', 'melted agrees']);
    expect(weights('1000.00', '99.90')).toEqual(['received differs 0', 'melted agrees']);
  });

  test('a lot that was received lighter is owed as it was melted', () => {
    // 99.40 × 100 / 99.50 = 99.8995: 0.4995 g more.
    expect(weights('99.50', '99.40')).toEqual(['received differs 35.41', 'melted agrees']);
  });

  test('a melt that loses more than was agreed is owed down to the agreed loss', () => {
    // 100 × 0.997 = 99.70: 0.60 g.
    expect(weights('100.00', '99.10')).toEqual(['received agrees', 'melted differs 42.53']);
  });

  test('a melt whose digits were exchanged is owed as it was read, not as the least that it may be', () => {
    // 98.90 for 99.80: 0.90 g × 70.8924. No exchange of 89.90 agrees: 9.80 g to the least.
    expect(weights('100.00', '98.90')).toEqual(['received agrees', 'melted differs 63.8']);
    expect(weights('100.00', '89.90')).toEqual(['received agrees', 'melted differs 694.74']);
  });

  test('no melt leaves more than went in', () => {
    expect(weights('100.00', '190.00')).toEqual(['received agrees', 'melted differs -6380.32']);
  });
});

describe('what a settlement does not say', () => {
  const bare = (line: string, total: string, own = 'Au 90.00 ±0.02 % expanded') =>
    `${settledPage('', '90.00 %')
      .replace('Au 90.00 ±0.02 % expanded', own)
      .replace('2500.00 USD/ozt\nship', '2500.00 USD/ozt\nquote Ag 30.00 USD/ozt\nship')
      .replace(/ {2}pays .*\n$/, line)}  total ${total} USD\n`;

  test('is no slip in its sum: without a price of theirs, or a quote of the agreed day, nothing is held against it', () => {
    const total = (terms: string) => {
      const text = bare('  pays Au 98 %\n', '7000.00');
      const [one] = settlementsIn(pageWorkspace(text, TERMS_SHOP.replace('TERMS', terms)));
      const line = one!.checked.lines.at(-1)!;
      return [line.verdict, line.because, one!.checked.owed.amount.toString()];
    };
    expect(total('days: 30')).toEqual(['unchecked', 'price not said', '0']);
    // 90 g × 0.98 × 2500 / 31.1034768 = 7089.24.
    expect(total('price day: shipped')).toEqual(['differs', undefined, '89.24']);
  });

  test('of silver is told where our own assay has much of it', () => {
    const shop = TERMS_SHOP.replace('TERMS', 'days: 30');
    const says = (own: string, pays = '') => {
      const text = bare(`  pays Au 98 %${pays}, price Au 2500.00 USD/ozt\n`, '787.69', own).replace(
        '  Au 90.00 %',
        '  Au 10.00 %',
      );
      return findingsOf(pageWorkspace(text, shop), 'page.melt').map((one) => one.says);
    };
    // 80 g × 30 / 31.1034768 = 77.16.
    expect(says('Au 10.00 ±0.02 % expanded, Ag 80.0 %')).toEqual([
      'Nothing is paid for 80.00 g of silver, worth 77.16 USD at its full price. Ask what they pay for it, or write `pays Ag 0 %`.',
    ]);
    expect(says('Au 10.00 ±0.02 % expanded, Ag 80.0 %', ', pays Ag 0 %')).toEqual([]);
    expect(says('Au 10.00 ±0.02 % expanded, Ag 2.0 %')).toEqual([]);
  });
});

describe('a name that nothing was shipped as', () => {
  const found = (name: string) =>
    findingsOf(
      pageWorkspace(
        settledPage('', '90.00 %').replace('settle V1', `settle ${name}`),
        TERMS_SHOP.replace('TERMS', 'days: 30'),
      ),
      'page.melt',
    ).map(({ code, says }) => `${code}: ${says}`);

  test('near to one that there is asks whether that is meant; else it is told', () => {
    expect(found('V11')).toEqual(['near-name: Nothing was shipped as V11. Is V1 meant?']);
    expect(found('quay-may')).toEqual([
      'unknown-lot: Nothing was shipped as quay-may, and no lot bears this name. Write the `ship` that it settles.',
    ]);
  });
});

describe('a total that does not follow', () => {
  const says = (total: string): string => {
    const text = settledPage('', '90.00 %')
      .replace('2500.00 USD/ozt\nship', '2500.00 USD/ozt\nquote Ag 30.00 USD/ozt\nship')
      .replace('Au 90.00 ±0.02 % expanded', 'Au 90.00 ±0.02 % expanded, Ag 5.00 ±0.1 % expanded')
      .replace('  Au 90.00 %\n  pays', '  Au 90.00 %, Ag 5.00 %\n  pays');
    const deal = `  pays Ag 90 %, price Ag 30.00 USD/ozt\n  charge melting 45.00 USD\n  credit copper 3.10 USD\n  total ${total} USD\n`;
    const shop = TERMS_SHOP.replace('pays: { Au: 98 % }', 'pays: { Au: 98 %, Ag: 90 % }');
    const terms = 'charges: { melting: 45.00 USD }\n        price day: shipped';
    return findingsOf(pageWorkspace(`${text}${deal}`, shop.replace('TERMS', terms)), 'page.melt')
      .map((one) => one.says)
      .join(' ');
  };

  // 90 × 0.98 × 2500 / 31.1034768 = 7089.24; 5 × 0.9 × 30 / 31.1034768 = 4.34; − 45.00 + 3.10 = 7051.68.
  test('by a coin a line is rounding', () => {
    expect(says('7051.68')).toBe('');
    expect(says('7051.72')).toBe('');
    expect(says('7051.73')).toContain(
      'Their lines come to 7051.68 USD, not to 7051.73 USD. It is 0.05 USD in your favour.',
    );
  });

  test('names the line that it was added up without, with twice, or the other way', () => {
    expect(says('7047.34')).toContain('not to 7047.34 USD: Ag is left out. It costs you 4.34 USD.');
    expect(says('7006.68')).toContain(': charge melting is taken twice.');
    expect(says('7096.68')).toContain(': charge melting is left out.');
    expect(says('7045.48')).toContain(': credit copper stands on the wrong side.');
    expect(says('7015.68')).toContain('not to 7015.68 USD: two of its digits are exchanged.');
    expect(says('7020.00')).toContain('not to 7020.00 USD. It costs you 31.68 USD.');
  });
});

describe('money of another currency', () => {
  const lines = (settled: string, rate = ''): string[] => {
    const text = `${settledPage('', '90.00 %').replace('ship V1', `${rate}ship V1`).replace('price Au 2500.00 USD/ozt', `price Au ${settled}`)}  total 7000.00 USD\n`;
    const terms = 'price day: shipped\n        charges: { melting: 50.00 USD }';
    const [one] = settlementsIn(pageWorkspace(text, TERMS_SHOP.replace('TERMS', terms)));
    return one!.checked.lines
      .filter(({ subject }) => subject === 'price' || subject === 'charge')
      .map(({ subject, verdict, because, owed }) =>
        `${subject} ${verdict} ${because ?? ''} ${owed?.amount ?? ''}`.trim(),
      );
  };

  test('is held against the quote by the rate of the day', () => {
    // 2500 USD are 2272.7272… EUR at 1.10 USD.
    expect(lines('2272.73 EUR/ozt', 'quote EUR 1.10 USD\n')).toEqual(['price agrees']);
    // 90 g × 0.98 / 31.1034768 × (2500 − 2000 × 1.10) = 850.71, and not the 500 USD that the bare figures are apart.
    expect(lines('2000.00 EUR/ozt', 'quote EUR 1.10 USD\n')).toEqual(['price differs  850.71']);
  });

  test('is not judged where no rate is written', () => {
    expect(lines('2272.73 EUR/ozt')).toEqual(['price unchecked no rate']);
    expect(lines('2500.00 USD/ozt\n  charge melting 45.00 EUR')).toEqual(['charge unchecked no rate', 'price agrees']);
  });
});
