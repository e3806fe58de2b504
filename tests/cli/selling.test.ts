/** `fineweight settle` and `fineweight routes` as their users run them, on the sample month. */
import { resolve } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { fineweight, folderOf, removeFolders, stateOf } from './run';

afterAll(removeFolders);

const SAMPLE = resolve(__dirname, '../../samples/selling');

const run = (...args: string[]) => fineweight([...args, SAMPLE]);

describe('settle', () => {
  test('a settlement: each line, what it costs, the sum, the terms, and what it is not', () => {
    const { out, exit } = run('settle', 'S4');
    expect(exit).toBe(0);
    expect(out).toContain('3 lines differ from the journal: 706.11 USD owed.');
    expect(out).toMatch(/^Au paid share +98 % +98\.75 % +differs +52\.14 USD$/m);
    expect(out).toMatch(/^Au price +2530\.00 USD\/ozt +2572\.00 USD\/ozt +differs +113\.10 USD$/m);
    expect(out).toMatch(/^total +6177\.50 USD +6883\.61 USD +differs +540\.00 USD$/m);
    expect(out).toMatch(
      /^ {2}Au 94\.11 g × 90\.82 % = 85\.471 g fine × 98 % = 83\.761 g at 2530\.00 USD\/ozt +6813\.26 USD$/m,
    );
    // 94.31 g × 0.9085 × 2572.00 and × 0.083 × 30.60, / 31.1034768: 7092.78; less 6177.50 and 98.53.
    expect(out).toContain(
      'worth 7093 USD in full, of which they pay 87.1 %: 98.53 USD are charges, 277 USD is metal that they do not find or do not pay in full; 540.00 USD is wrong in their sums.',
    );
    expect(out).toContain('These figures are no offer and no advice. Records of purchase and tax follow local law.');
  });

  test('as JSON: money as exact text', () => {
    const { settlements } = JSON.parse(run('settle', 'S4', '--format', 'json').out);
    expect(settlements).toHaveLength(1);
    expect(settlements[0]).toMatchObject({
      party: 'quay-refiner',
      stated: '6177.5',
      reckoned: '6717.5',
      owed: '706.11',
      days: 7,
    });
    expect(settlements[0].lines.filter((line: { verdict: string }) => line.verdict === 'differs')).toMatchObject([
      { subject: 'pays', of: 'Au', owed: '52.14' },
      { subject: 'price', of: 'Au', owed: '113.1' },
      { subject: 'total', owed: '540' },
    ]);
  });

  test('as CSV: a row for each line', () => {
    const rows = run('settle', 'S4', '--format', 'csv').out.trim().split('\r\n');
    expect(rows[0]).toBe('settlement,party,line,theirs,ours,unit,verdict,owed,currency,file,line number,corrected');
    expect(rows.filter((row) => row.includes('differs'))).toHaveLength(3);
  });

  test("a customer's lot as CSV: what came of it, then each line of its bill", () => {
    const rows = run('settle', 'HB-3', '--format', 'csv').out.trim().split('\r\n');
    const bill = rows.map((row) => row.split(',')).filter(([, , what]) => what?.startsWith('bill: '));
    expect(
      bill.map(([, lot, what, , , , , , date, , theirs, ours, unit, verdict]) => [
        lot,
        what,
        date,
        theirs,
        ours,
        unit,
        verdict,
      ]),
    ).toContainEqual(['HB-3', 'bill: charge toll', '2026-09-15', '79.64', '79.64', 'USD', 'agrees']);
  });

  test("a customer's lot, by its name or that of the shipment; a party's record", () => {
    expect(run('settle', 'HB-3').out).toContain('The work comes to 114.64 USD by the terms on file.');
    expect(run('settle', 'S3').out).toContain('hall-bench: HB-3 received 2026-09-05');
    expect(run('settle', 'HB-3').out).toMatch(/^charge toll +79\.64 USD +79\.64 USD +agrees$/m);
    expect(run('settle', 'hall-bench').out).toContain(
      'Billed 2026-09-15: 114.64 USD to be paid by hall-bench, paid 2026-09-22.',
    );
    expect(JSON.parse(run('settle', 'S3', '--format', 'json').out).tolls[0].fee).toEqual({
      amount: '114.64',
      currency: 'USD',
    });
    expect(run('settle', 'quay-refiner').out).toContain(
      'By the journal 706.11 USD is still owed to you: S4 since 2026-09-24.',
    );
    expect(run('settle', 'fell-buyer', '--format', 'csv').out.trim().split('\r\n')).toHaveLength(4);
  });

  test('a shipment that waits says what it is worth; a name that nothing bears is asked about', () => {
    const cwd = folderOf({
      'a.melt':
        '2026-05-04\nquote Au 2500.00 USD/ozt\nreceive A 60.00 g\nassay A by fire\n  Au 90 %\nship V1 to quay-refiner\n  in A',
    });
    expect(fineweight(['settle', 'V1'], { cwd }).out).toContain(
      'V1 went to quay-refiner on 2026-05-04, and is not settled.',
    );
    const wrong = fineweight(['settle', 'quay-refinr'], { cwd });
    expect([wrong.exit, wrong.err]).toEqual([
      2,
      "fineweight: No shipment, settlement, customer's lot or party is called quay-refinr. Did you mean quay-refiner?\n",
    ]);
    expect(fineweight(['settle'], { cwd }).err).toContain('`fineweight settle NAME [PATH…]`');
  });

  test('writes nothing', () => {
    const before = stateOf(SAMPLE);
    run('settle', 'S1');
    run('routes', 'BTN-A');
    expect(stateOf(SAMPLE)).toEqual(before);
  });
});

describe('routes', () => {
  test('each way with what it brings, which is better and how surely, where both pay the same', () => {
    const { out, exit } = run('routes', 'BTN-A');
    expect(exit).toBe(0);
    expect(out).toMatch(/^cupel, then sell +quay-refiner, by the terms +3471\.65 USD +56\.62 USD +3420 USD ±40 +15$/m);
    expect(out).toContain(
      'Refining pays: to cupel, then sell to quay-refiner brings 22 USD ±8 more than to sell as it is to fell-buyer.',
    );
    expect(out).toContain('Both pay the same at 59.07 % gold');
    expect(out).toContain('No price is foretold.');
    expect(run('routes', 'BTN-B').out).toContain('Refining does not pay its cost');
  });

  test('as JSON and CSV', () => {
    const [lot] = JSON.parse(run('routes', 'BTN-A', '--format', 'json').out).lots;
    expect(lot.refining).toMatchObject({ route: 'cupel', to: 'quay-refiner', against: 'fell-buyer' });
    expect(lot.refining.breakEvenFineness.at).toBeCloseTo(0.5907, 3);
    expect(run('routes', 'BTN-A', '--format', 'csv').out.trim().split('\r\n')).toHaveLength(8);
  });

  test('of which nothing can be told says why', () => {
    expect(run('routes', 'BAR-81')).toMatchObject({
      exit: 2,
      err: 'fineweight: BAR-81 is not on hand at the end of the record.\n',
    });
    expect(run('routes', 'BTN-C').err).toContain('Did you mean BTN-');
    expect(run('routes', 'HB-3d').err).toContain("is not the shop's own to sell");
  });
});
