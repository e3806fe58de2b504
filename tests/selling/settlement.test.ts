/** Settlements held against the journal, as the journal's own pages. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { settledSays } from '../../server/reports/selling/settled';
import { unfinishedOf } from '../../server/reports/unfinished';
import { findingsOf } from '../../server/rules/findings';
import { settlementsIn } from '../../server/workspace/selling/settlements';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import type { Workspace } from '../../server/workspace/workspace';
import { pageWorkspace, textOf } from '../support/workspace';

const SAMPLE = resolve(__dirname, '../../samples/selling');

const sample = (): Workspace =>
  withTexts(
    emptyWorkspace('selling'),
    new Map(readdirSync(SAMPLE).map((name) => [name, readFileSync(join(SAMPLE, name), 'utf8')])),
  );

/** Lines that differ, each with what it costs. */
const differing = (workspace: Workspace): string[] =>
  settlementsIn(workspace).flatMap(({ name, checked }) =>
    checked.lines
      .filter(({ verdict }) => verdict === 'differs')
      .map(({ subject, of, owed }) => `${name} ${subject}${of ? ` ${of}` : ''} ${owed?.amount}`),
  );

describe('a month of sales', () => {
  test('has six sales to two buyers', () => {
    const { entries } = sample().pages.get('2026-09.melt')!;
    const sold = entries.filter(({ verb, prefix }) => !prefix && (verb === 'settle' || verb === 'sell'));
    expect(sold.length).toBe(6);
    const parties = entries.filter(({ verb }) => verb === 'ship' || verb === 'sell').map(({ party }) => party?.name);
    expect(new Set(parties)).toEqual(new Set(['quay-refiner', 'fell-buyer']));
  });

  test('three slips in one settlement are found, each with its amount, and nothing else', () => {
    const workspace = sample();
    // Weighed 94.11 g at 90.82 %: 85.470702 g fine.
    // At 98.75 % instead of 98 %: 84.402318… g at 2530 / 31.1034768 are 6865.40, against 6813.26: 52.14.
    // At 2572 instead of 2530: 83.761288 g × 2572 / 31.1034768 = 6926.36, against 6813.26: 113.10.
    // 6813.26 + 2.77 − 40 − 35 − 23.53 = 6717.50; 6177.50 is written: 540.00.
    expect(differing(workspace)).toEqual(['S4 pays Au 52.14', 'S4 price Au 113.1', 'S4 total 540']);
    const all = [...workspace.pages.keys(), 'workshop.yaml'].flatMap((file) =>
      findingsOf(workspace, file).map((one) => `${one.code} ${textOf(workspace, one)}`),
    );
    expect(all).toEqual([
      'settled-terms pays Au 98 %',
      'settled-price price Au 2530.00 USD/ozt',
      'settled-total total 6177.50 USD',
    ]);
  });

  test('what is owed is what all of it put right would pay, less what they pay', () => {
    const slipped = settlementsIn(sample()).find(({ name }) => name === 'S4')!;
    // 84.402318… g × 2572 / 31.1034768 = 6979.37; + 2.77 − 98.53 = 6883.61; − 6177.50.
    expect(slipped.checked.right.total.amount.toString()).toBe('6883.61');
    expect(slipped.checked.owed.amount.toString()).toBe('706.11');
  });
});

const WORKSHOP = `parties:
  quay-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: 98 % }
        splitting: { Au: 0.10 % }
        TERMS
`;

const page = (assays: string, settled: string): string => `2026-05-04
receive A 100.00 g
assay A by fire at beck-lab, corrected
  Au 90.00 ±0.02 % expanded
${assays}
quote Au 2500.00 USD/ozt
ship V1 to quay-refiner
  in A 100.00 g
2026-05-11
settle V1
  received 100.00 g
  Au ${settled}
  pays Au 98 %, price Au 2500.00 USD/ozt
`;

const judged = (terms: string, assays: string, settled: string): string => {
  const [one] = settlementsIn(pageWorkspace(page(assays, settled), WORKSHOP.replace('TERMS', terms)));
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
    const late = page('assay A by fire at quay-refiner, corrected\n  Au 89.92 %', '89.92 %')
      .replace('assay A by fire at beck-lab, corrected\n  Au 90.00 ±0.02 % expanded\n', '')
      .replace('2026-05-11\n', '2026-05-11\nassay A by fire at beck-lab, corrected\n  Au 90.00 ±0.02 % expanded\n');
    const [one] = settlementsIn(
      pageWorkspace(late, WORKSHOP.replace('TERMS', 'assay: exchange\n        exchange days: 5 days')),
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
    const own = page('', '89.50 %').replace(
      'by fire at beck-lab, corrected\n  Au 90.00 ±0.02 % expanded',
      'by xrf\n  Au 90.0 %',
    );
    const [one] = settlementsIn(pageWorkspace(own, WORKSHOP.replace('TERMS', 'assay: theirs')));
    const line = one!.checked.lines.find(({ subject }) => subject === 'assay')!;
    expect([line.verdict, line.because]).toEqual(['unchecked', 'own assay too coarse']);
  });
});

describe('their weights', () => {
  const weights = (received: string, melted: string): string[] => {
    const text = page('', '90.00 %').replace('received 100.00 g', `received ${received} g, melted ${melted} g`);
    const [one] = settlementsIn(pageWorkspace(text, WORKSHOP.replace('TERMS', 'melt loss: 0.3 %')));
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
    `${page('', '90.00 %')
      .replace('Au 90.00 ±0.02 % expanded', own)
      .replace('2500.00 USD/ozt\nship', '2500.00 USD/ozt\nquote Ag 30.00 USD/ozt\nship')
      .replace(/ {2}pays .*\n$/, line)}  total ${total} USD\n`;

  test('is no slip in its sum: without a price of theirs, or a quote of the agreed day, nothing is held against it', () => {
    const total = (terms: string) => {
      const text = bare('  pays Au 98 %\n', '7000.00');
      const [one] = settlementsIn(pageWorkspace(text, WORKSHOP.replace('TERMS', terms)));
      const line = one!.checked.lines.at(-1)!;
      return [line.verdict, line.because, one!.checked.owed.amount.toString()];
    };
    expect(total('days: 30')).toEqual(['unchecked', 'price not said', '0']);
    // 90 g × 0.98 × 2500 / 31.1034768 = 7089.24.
    expect(total('price day: shipped')).toEqual(['differs', undefined, '89.24']);
  });

  test('of silver is told where our own assay has much of it', () => {
    const shop = WORKSHOP.replace('TERMS', 'days: 30');
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
      pageWorkspace(page('', '90.00 %').replace('settle V1', `settle ${name}`), WORKSHOP.replace('TERMS', 'days: 30')),
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
    const text = page('', '90.00 %')
      .replace('2500.00 USD/ozt\nship', '2500.00 USD/ozt\nquote Ag 30.00 USD/ozt\nship')
      .replace('Au 90.00 ±0.02 % expanded', 'Au 90.00 ±0.02 % expanded, Ag 5.00 ±0.1 % expanded')
      .replace('  Au 90.00 %\n  pays', '  Au 90.00 %, Ag 5.00 %\n  pays');
    const deal = `  pays Ag 90 %, price Ag 30.00 USD/ozt\n  charge melting 45.00 USD\n  credit copper 3.10 USD\n  total ${total} USD\n`;
    const shop = WORKSHOP.replace('pays: { Au: 98 % }', 'pays: { Au: 98 %, Ag: 90 % }');
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
    const text = `${page('', '90.00 %').replace('ship V1', `${rate}ship V1`).replace('price Au 2500.00 USD/ozt', `price Au ${settled}`)}  total 7000.00 USD\n`;
    const terms = 'price day: shipped\n        charges: { melting: 50.00 USD }';
    const [one] = settlementsIn(pageWorkspace(text, WORKSHOP.replace('TERMS', terms)));
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

describe('a settlement', () => {
  test('of several lots is held against all of them together', () => {
    const several = pageWorkspace(
      `2026-05-04
receive A 60.00 g
assay A by fire, corrected
  Au 90.00 ±0.02 % expanded
receive B 40.00 g
assay B by fire, corrected
  Au 50.00 ±0.02 % expanded
quote Au 2500.00 USD/ozt
ship V1 to quay-refiner
  in A 60.00 g, in B 40.00 g
2026-05-11
settle V1
  received 100.00 g
  Au 74.00 %
  pays Au 98 %, price Au 2500.00 USD/ozt
`,
      WORKSHOP.replace('TERMS', 'assay: theirs'),
    );
    const [one] = settlementsIn(several);
    // (60 × 0.9 + 40 × 0.5) / 100.
    expect(one!.own.get('Au')!.share.value).toBeCloseTo(0.74, 12);
    expect(one!.checked.lines.filter(({ verdict }) => verdict === 'differs')).toEqual([]);
  });

  test('that goes on another day: the money that came is read with it; a void one is none', () => {
    const paid = `${page('', '90.00 %')}2026-05-20\nmore settle V1\n  paid 2026-05-19`;
    expect(
      settlementsIn(pageWorkspace(paid, WORKSHOP.replace('TERMS', 'days: 12'))).map(({ daysTaken }) => daysTaken),
    ).toEqual([15]);
    const voided = `${page('', '90.00 %')}2026-05-20\nvoid settle V1`;
    expect(settlementsIn(pageWorkspace(voided, WORKSHOP.replace('TERMS', 'days: 12')))).toEqual([]);
  });

  test('in another currency than the quotes is reckoned by the written rate', () => {
    const euros = (rate: string) =>
      page('', '90.00 %')
        .replace('price Au 2500.00 USD/ozt', 'price Au 2000.00 EUR/ozt\n  total 5671.14 EUR')
        .replace('ship V1', `${rate}\nship V1`);
    const total = (text: string) =>
      settlementsIn(pageWorkspace(text, WORKSHOP.replace('TERMS', 'price day: shipped')))[0]!;
    // 90 g × 0.98 × 2000 / 31.1034768 = 5671.39…; 2500 USD / 1.25 = 2000 EUR.
    const known = total(euros('quote EUR 1.25 USD'));
    expect([known.currency, known.checked.payout.total.amount.toString()]).toEqual(['EUR', '5671.39']);
    expect(total(euros('note no rate')).checked.payout.total.amount.toString()).toBe('5671.39');
  });

  test('whose total is in a currency without a rate has its lines checked all the same, and the slip or the rate is asked for', () => {
    const text = page('', '90.00 %').trimEnd();
    const told = (total: string): readonly string[] => {
      const workspace = pageWorkspace(
        `${text}\n  total ${total} EUR\n`,
        WORKSHOP.replace('TERMS', 'price day: settled'),
      );
      const [one] = settlementsIn(workspace);
      expect(one!.checked.payout.total).toMatchObject({ currency: 'USD' });
      expect(settledSays(one!)).toContain('1 line differs from the journal.');
      return findingsOf(workspace, 'page.melt').map(({ code, says }) => `${code}: ${says}`);
    };
    // 90 g × 0.98 × 2500 / 31.1034768 = 7089.24.
    expect(told('7089.24')).toEqual([
      'settled-total: Their lines come to 7089.24 USD; the total is 7089.24 EUR, and no rate is written. Put right a slip of the pen, or write `quote EUR … USD`.',
    ]);
    expect(told('4000.00')).toHaveLength(1);
  });

  test('that prints its sums has each worked through to one in its last place, and a slip is told once', () => {
    const told = (payable: string, worth: string, total: string): readonly string[] => {
      const text = `${page('', '90.00 %')}  payable Au ${payable} g, worth Au ${worth} USD\n  total ${total} USD\n`;
      const workspace = pageWorkspace(text, WORKSHOP.replace('TERMS', 'price day: shipped'));
      const [one] = settlementsIn(workspace);
      return [
        ...findingsOf(workspace, 'page.melt').map(({ says }) => says),
        `${one!.checked.owed.amount.toString()} owed`,
      ];
    };
    // 90 × 0.98 = 88.20 g; × 2500 / 31.1034768 = 7089.24; 88.19 g are 7088.44, and 87.20 g are 7008.86.
    expect(told('88.20', '7089.24', '7089.24')).toEqual(['0 owed']);
    expect(told('88.19', '7088.44', '7088.44')).toEqual(['0 owed']);
    expect(told('88.20', '7089.25', '7089.25')).toEqual(['0 owed']);
    expect(told('87.20', '7008.86', '7008.86')).toEqual([
      'They print 87.20 g of payable Au; their weight, assay and share come to 88.20 g. It costs you 80.38 USD.',
      '80.38 owed',
    ]);
    expect(told('88.20', '7098.24', '7098.24')).toEqual([
      'They print 7098.24 USD for Au; their own figures come to 7089.24 USD. It is 9.00 USD in your favour.',
      '-9 owed',
    ]);
  });

  test('that cuts a printed sum where it should be rounded agrees', () => {
    // A refiner's published returnable sheet: 14 736.18 × 0.98 = 14 441.46, printed 14 441.45.
    const text = page('', '90.00 %')
      .replaceAll('100.00 g', '14736.18 g')
      .replaceAll(/Au 90.00 (±0.02 % expanded|%)/g, 'Au 100 %')
      .concat('  payable Au 14441.45 g\n');
    const [one] = settlementsIn(pageWorkspace(text, WORKSHOP.replace('TERMS', 'price day: shipped')));
    const line = one!.checked.lines.find(({ subject }) => subject === 'payable')!;
    expect([line.verdict, line.because, line.ours!.toFixed(2)]).toEqual(['agrees', 'rounding', '14441.46']);
  });

  test('of a sum and no lines is held against our own figures, as far as these are known', () => {
    const told = (total: string): readonly string[] => {
      const text = page('', '90.00 %').split('  received')[0]!;
      const workspace = pageWorkspace(`${text}  total ${total} USD\n`, WORKSHOP.replace('TERMS', 'price day: shipped'));
      return findingsOf(workspace, 'page.melt').map(({ says }) => says);
    };
    // 0.02 % expanded of 90 % is 1.58 USD of 7089.24, and the weight is known to 0.01 g of 100 g.
    expect(told('7088.00')).toEqual([]);
    expect(told('7000.00')).toEqual([
      'They name a sum and no lines: 7000.00 USD. By the terms from 2026-01-01 and our own weight and assay it comes to 7089.24 USD. It costs you 89.24 USD. Ask for the sheet.',
    ]);
  });

  test('at a price that was put into another unit agrees, but for what a coin for each line leaves open', () => {
    const told = (price: string): readonly string[] => {
      const text = page('', '90.00 %').replace('price Au 2500.00 USD/ozt', `price Au ${price} USD/kg`);
      const workspace = pageWorkspace(text, WORKSHOP.replace('TERMS', 'price day: shipped'));
      return findingsOf(workspace, 'page.melt').map(({ code }) => code);
    };
    // 2500 / 31.1034768 × 1000 = 80376.87 USD/kg. Of 88.2 g that are paid for a coin is 0.11 USD/kg, and a coin of the quote 0.32 USD/kg.
    expect(told('80377.00')).toEqual([]);
    expect(told('80376.75')).toEqual([]);
    expect(told('80378.00')).toEqual(['settled-price']);
    expect(told('80400.00')).toEqual(['settled-price']);
  });

  test('may be at either price of a day that has two', () => {
    const told = (price: string): readonly string[] => {
      const text = page('', '90.00 %')
        .replace('quote Au 2500.00 USD/ozt', 'quote Au 2480.00 USD/ozt\nquote Au 2500.00 USD/ozt')
        .replace('price Au 2500.00 USD/ozt', `price Au ${price} USD/ozt`);
      const workspace = pageWorkspace(text, WORKSHOP.replace('TERMS', 'price day: shipped'));
      return findingsOf(workspace, 'page.melt').map(({ says }) => says);
    };
    expect(told('2480.00')).toEqual([]);
    expect(told('2500.00')).toEqual([]);
    expect(told('2470.00')).toEqual([expect.stringContaining('the agreed day, it was 2480.00 USD/ozt')]);
  });

  test('with a charge that is never less than a sum is reckoned with that', () => {
    const charged = (charge: string): readonly string[] => {
      const text = `${page('', '90.00 %')}  charge refining ${charge}\n`;
      const [one] = settlementsIn(pageWorkspace(text, WORKSHOP.replace('TERMS', 'price day: shipped')));
      return one!.checked.payout.charges.map(({ cost }) => cost.amount.toString());
    };
    expect(charged('0.40 USD/g of received at least 60.00 USD')).toEqual(['60']);
    expect(charged('0.70 USD/g of received at least 60.00 USD')).toEqual(['70']);
    // 1 % of 7089.24.
    expect(charged('1 % of value at least 60.00 USD')).toEqual(['70.89']);
    expect(charged('0.5 % of value at least 60.00 USD')).toEqual(['60']);
  });

  test('paid in two parts comes to both', () => {
    // 90 g × 0.98 × 2500 / 31.1034768 = 7089.23.
    const text = page('', '90.00 %').trimEnd();
    const paid = `${text}\n  total 5000.00 USD, paid 2026-05-12\n2026-05-20\nmore settle V1\n  total 2089.23 USD, paid 2026-05-19\n`;
    const workspace = pageWorkspace(paid, WORKSHOP.replace('TERMS', 'price day: shipped'));
    expect(differing(workspace)).toEqual([]);
    expect(settlementsIn(workspace)[0]!.checked.stated.amount.toString()).toBe('7089.23');
  });

  test('of a lot that they received as nothing gives figures all the same', () => {
    const workspace = pageWorkspace(
      page('', '90.00 %').replace('received 100.00 g', 'received 0.00 g'),
      WORKSHOP.replace('TERMS', 'assay: theirs'),
    );
    const [one] = settlementsIn(workspace);
    // 100 g at 90 % × 0.98 × 2500 / 31.1034768.
    expect(one!.checked.owed.amount.toString()).toBe('7089.24');
  });
});

describe('metal that comes back in place of money', () => {
  // 90 g × 0.98 = 88.20 g.
  const sheet = (returns: string, more = ''): Workspace => {
    const text = page('', '90.00 %').replace('price Au 2500.00 USD/ozt', `returns Au ${returns} g`);
    return pageWorkspace(
      `${text}  charge melting 45.00 USD\n${more}`,
      WORKSHOP.replace('TERMS', 'days: 10\n        charges: { melting: 45.00 USD }'),
    );
  };
  const told = (workspace: Workspace): readonly string[] => findingsOf(workspace, 'page.melt').map(({ says }) => says);

  test('is no money, and is held against what is payable of it', () => {
    const [one] = settlementsIn(sheet('88.20'));
    expect(one!.checked.payout.total.amount.toString()).toBe('-45');
    expect(differing(sheet('88.20'))).toEqual([]);
    expect(told(sheet('87.20'))).toEqual([
      'They give back 87.20 g of Au; their weight, assay and share come to 88.20 g: 1.00 g less. Ask for the rest, or for money.',
    ]);
  });

  test('leaves charges that are yours to pay, written above nought', () => {
    expect(told(sheet('88.20', '  total 45.00 USD, paid 2026-05-12\n'))).toEqual([]);
    expect(told(sheet('88.20', '  total 54.00 USD, paid 2026-05-12\n'))).toEqual([
      expect.stringContaining('Their lines come to -45.00 USD, not to -54.00 USD'),
    ]);
  });

  test('is due until the lot is named that it was weighed in as', () => {
    const late = '2026-05-30\nnote rain\n';
    expect(told(sheet('88.20', '2026-05-12\nnote rain\n'))).toEqual([]);
    expect(told(sheet('88.20', late))).toEqual([
      'V1 was settled 19 days before the last day of the journal, 2026-05-30, and 88.20 g of Au that quay-refiner gives back is not weighed in. Ask for it; once it is here, write `receive LOT from quay-refiner`, and `returned LOT` in a `more settle`.',
    ]);
    const back = `2026-05-20\nreceive G from quay-refiner 88.25 g\nassay G by fire, corrected\n  Au 99.95 ±0.02 % expanded\nmore settle V1\n  returned G\n${late}`;
    expect(told(sheet('88.20', back))).toEqual([]);
    const [one] = settlementsIn(sheet('88.20', back));
    // 88.25 × 0.9995.
    expect(one!.back[0]!.came!.value).toBeCloseTo(88.206, 3);
    expect(settledSays(one!)[1]).toMatch(
      /^88\.20 g of Au comes back from quay-refiner in place of money: weighed in as G, 88\.2/,
    );
    const [open] = unfinishedOf(sheet('88.20', late)).filter(({ closes }) => closes === 'V1');
    expect(open!.says).toBe('Write `returned LOT` of settle V1 once 88.20 g of Au is weighed in.');
  });
});
