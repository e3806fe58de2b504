/** Work on a customer's metal: what came in, what went back, what is owed either way. */
import { describe, expect, test } from 'vitest';
import { tollSays } from '../../server/reports/selling/toll';
import { findingsOf } from '../../server/rules/findings';
import { accountsOf } from '../../server/workspace/accounts';
import { tollOf } from '../../server/workspace/selling/tolls';
import { pageWorkspace, said } from '../support/workspace';

const WORKSHOP = `shop: { currency: USD }
parties:
  hall-bench:
    role: customer
    terms:
      2026-01-01:
        pays: { Au: 98 %, Ag: 95 % }
        charges:
          toll: 1.10 USD/g of received at least 60.00 USD
          assay: 35.00 USD
        residues: RESIDUES
`;

const PAGE = `2026-05-04
receive H from hall-bench
  50.00 g
assay H by fire, corrected
  Au 70.00 ±0.02 % expanded, Ag 20.00 ±0.1 % expanded
melt M1
  in H
  add borax-glass 5 g
  out B 49.60 g bar
  out S 5.00 g slag
assay B by fire, corrected
  Au 70.50 ±0.02 % expanded, Ag 20.10 ±0.1 % expanded
2026-05-06
ship V1 to hall-bench
  in 45.00 g of B
`;

const toll = (name: string, page = PAGE, residues = 'shop') =>
  tollOf(pageWorkspace(page, WORKSHOP.replace('RESIDUES', residues)), name)!;

describe("a customer's lot", () => {
  test('of which a metal was bought by a price on the bill owes none of that metal, and the rest as before', () => {
    const bill = 'settle H\n  pays Au 98 %, price Au 2400.00 USD/ozt\n  charge assay 35.00 USD\n';
    const { metals } = toll('H', `${PAGE}${bill}`);
    const [gold, silver] = ['Au', 'Ag'].map((symbol) => metals.find(({ metal }) => metal === symbol)!);
    expect([gold!.bought, gold!.owed.value]).toEqual([true, 0]);
    expect(silver!.owed).toEqual(toll('H').metals.find(({ metal }) => metal === 'Ag')!.owed);
    expect(toll('H', `${PAGE}${bill.replace('settle H', 'settle H with quay-refiner')}`).metals[0]!.bought).toBe(false);
  });

  test('is accounted for by the agreed share of what came in', () => {
    const { metals, customer } = toll('H');
    expect(customer).toBe('hall-bench');
    const gold = metals.find(({ metal }) => metal === 'Au')!;
    // 50 × 0.7 = 35 g came in, 98 % of it are 34.3 g; 45 × 0.705 = 31.725 g went back.
    expect(gold.received!.value).toBeCloseTo(35, 9);
    expect(gold.due.value).toBeCloseTo(34.3, 9);
    expect(gold.returned.value).toBeCloseTo(31.725, 9);
    expect(gold.owed.value).toBeCloseTo(2.575, 9);
    // 4.60 g of the bar are here: 3.243 g of gold.
    expect(gold.onHand.value).toBeCloseTo(4.6 * 0.705, 9);
  });

  test('of which the terms take something off first, and keep a least, is due less by these', () => {
    const due = (terms: string): number => {
      const workshop = WORKSHOP.replace('RESIDUES', 'shop').replace(
        '        charges:',
        `        ${terms}\n        charges:`,
      );
      return tollOf(pageWorkspace(PAGE, workshop), 'H')!.metals.find(({ metal }) => metal === 'Au')!.due.value;
    };
    // 35 g less 2 % is 34.3 g, and 98 % of that is 33.614 g.
    expect(due('less: { Au: 2 % }')).toBeCloseTo(33.614, 9);
    expect(due('less: { Au: 0.5 g }')).toBeCloseTo(34.5 * 0.98, 9);
    // The share keeps 0.7 g: less than 1 g, more than 0.25 g; 2 % of the 50 g that came in are 1 g.
    expect(due('keeps: { Au: 1 g }')).toBeCloseTo(34, 9);
    expect(due('keeps: { Au: 0.25 g }')).toBeCloseTo(34.3, 9);
    expect(due('keeps: { Au: 2 % }')).toBeCloseTo(34, 9);
  });

  test('without terms by what came of it as metal', () => {
    const page = PAGE.replaceAll('hall-bench', 'beck-side').replace(
      'receive H from beck-side',
      'receive H from beck-side, owner beck-side',
    );
    const gold = tollOf(pageWorkspace(page), 'H')!.metals.find(({ metal }) => metal === 'Au')!;
    expect(gold.share).toBeUndefined();
    expect(gold.due.value).toBeCloseTo(49.6 * 0.705, 9);
    expect(gold.owed.value).toBeCloseTo(4.6 * 0.705, 9);
  });

  test('pays for the work by the terms: by weight, and never less than the least', () => {
    // 1.10 × 50 = 55.00 is less than 60.00; 35.00 for the assay.
    expect(toll('H').charges.map(({ word, cost }) => `${word} ${cost.amount}`)).toEqual(['toll 60', 'assay 35']);
    expect(toll('H').fee!.amount.toString()).toBe('95');
    const heavy = PAGE.replace('  50.00 g', '  60.00 g').replace('49.60 g bar', '59.60 g bar');
    expect(toll('H', heavy).fee!.amount.toString()).toBe('101');
  });

  test('leaves its residues to whom they were agreed to belong', () => {
    const slag = (residues: string) => toll('H', PAGE, residues).pieces.find(({ kind }) => kind === 'slag')!;
    expect(slag('shop').owner).toBeUndefined();
    expect(slag('owner').owner).toBe('hall-bench');
    expect(slag('owner').residue).toBe(true);
  });

  test('has the same owner of its slag in every report, and so has what is got out of it', () => {
    const stock = (residues: string) => {
      const page = `${PAGE}melt M2\n  in S\n  add borax-glass 5 g\n  out S2 0.40 g button\n  out T 9.40 g slag\n`;
      const workspace = pageWorkspace(page, WORKSHOP.replace('RESIDUES', residues));
      const accounts = accountsOf(workspace);
      const owners = accounts.stock().map(({ lot, ownership }) => `${lot} ${accounts.namesOf(ownership).join()}`);
      return { owners, pieces: tollOf(workspace, 'H')!.pieces.map(({ lot }) => lot) };
    };
    expect(stock('shop').owners).toEqual(['B hall-bench', 'S2 ', 'T ']);
    expect(stock('shop').pieces).not.toContain('S2');
    expect(stock('owner').owners).toEqual(['B hall-bench', 'S2 hall-bench', 'T hall-bench']);
    expect(stock('owner').pieces).toContain('S2');
  });

  test('is theirs as long as it is only burnt, sieved and divided, whatever is agreed on residues', () => {
    const page = `2026-05-04
receive W 12.50 kg from hall-bench, material sweeps
burn A1
  in W
  out Wa 8.42 kg ash
screen N1
  in Wa
  out Wc 150 g other
  out Wf 8.25 kg ash
split Y1
  in Wf
  out Wf1 4.00 kg ash
  out Wf2 4.25 kg ash
magnet G1
  in Wf2 4.25 kg
  out Wi 0.25 kg tails
  out Wn 4.00 kg ash
melt M1
  in Wn
  add litharge 1.0 kg
  add borax-glass 3.0 kg
  out B 800 g button
  out S 6.5 kg slag
cupel K1
  in B
  out K 40 g bead
`;
    const accounts = accountsOf(pageWorkspace(page, WORKSHOP.replace('RESIDUES', 'shop')));
    const owners = accounts.stock().map(({ lot, ownership }) => `${lot} ${accounts.namesOf(ownership).join()}`);
    expect(owners.sort()).toEqual(['K hall-bench', 'S ', 'Wc hall-bench', 'Wf1 hall-bench', 'Wi ']);
  });

  test('given back beyond what was agreed is found on the page', () => {
    const all = PAGE.replace('in 45.00 g of B', 'in B 49.60 g');
    // 49.60 × 0.705 = 34.968 against 34.3; 49.60 × 0.201 = 9.970 against 9.5.
    const says = findingsOf(pageWorkspace(all, WORKSHOP.replace('RESIDUES', 'shop')), 'page.melt').map(
      (one) => one.says,
    );
    expect(says).toHaveLength(1);
    expect(says[0]).toMatch(
      /^hall-bench got back 0\.668 g ±[\d.]+ of Au beyond the agreed 98 % and 0\.47 g ±[\d.]+ of Ag beyond the agreed 95 %\./,
    );
    expect(said(pageWorkspace(PAGE, WORKSHOP.replace('RESIDUES', 'shop')))).toEqual([]);
  });

  test('that was worked together with another of theirs has one account with it, by whatever name', () => {
    const page = PAGE.replace(
      'melt M1\n  in H\n',
      'receive H2 from hall-bench\n  20.00 g\nassay H2 by fire, corrected\n  Au 50.00 %, Ag 40.00 %\nmelt M1\n  in H\n  in H2\n',
    ).replace('49.60 g bar', '69.60 g bar');
    for (const name of ['H', 'H2', 'B', 'V1']) {
      const { lots, metals } = toll(name, page);
      expect(lots.map(({ lot }) => lot).sort()).toEqual(['H', 'H2']);
      // 35 + 10 g came in.
      expect(metals[0]!.received!.value).toBeCloseTo(45, 9);
    }
  });

  test('is found by its own name, by that of a shipment to its owner, and by a lot that came of it', () => {
    for (const name of ['H', 'V1', 'B']) expect(toll(name).lots.map(({ lot }) => lot)).toEqual(['H']);
    expect(
      tollOf(pageWorkspace(PAGE.replace('  50.00 g', '  50.00 g\n  bought 900.00 USD'), WORKSHOP), 'H'),
    ).toBeUndefined();
    expect(
      tollOf(pageWorkspace(PAGE.replace('ship V1 to hall-bench', 'ship V1 to quay-refiner'), WORKSHOP), 'V1'),
    ).toBeUndefined();
  });

  test('everything that came of it is told once: it weighs what the journal weighs', () => {
    const { pieces } = toll('H');
    const metal = pieces.filter(({ residue }) => !residue).reduce((sum, { grams }) => sum + (grams?.value ?? 0), 0);
    expect(metal).toBeCloseTo(49.6, 9);
    expect(pieces.map(({ lot, where }) => `${lot} ${where}`)).toEqual(['B returned', 'B on hand', 'S on hand']);
  });
});

// At 1.10 USD/g the toll of 50.00 g would be 55.00 USD, at least 60.00 USD; with the assay 95.00 USD. Nothing was done for it.
describe('a lot that went back as it came', () => {
  const back =
    '2026-05-04\nreceive H from hall-bench\n  50.00 g\n  stamp Au 18 k\n2026-05-06\nship V1 to hall-bench\n  in H 50.00 g\n';

  test('owes no fee, and is owed no metal', () => {
    const { fee, charges, unworked, metals } = toll('H', back);
    expect([unworked, fee, charges]).toEqual([true, undefined, []]);
    expect(metals.map(({ owed }) => owed.value)).toEqual([0, 0]);
    expect(tollSays(toll('H', back))).toContain('It went back as it came: nothing of the terms is due for it.');
  });

  test('but for what was done: an assay, or a part that stayed', () => {
    const assayed = back.replace('2026-05-06', 'assay H by xrf\n  Au 74.8 %\n2026-05-06');
    const sampled = back
      .replace('2026-05-06', 'sample H\n  out H-q 1.00 g drillings, keep\n2026-05-06')
      .replace('in H 50.00 g', 'in H 49.00 g');
    for (const page of [assayed, sampled, back.replace('in H 50.00 g', 'in 20.00 g of H')]) {
      expect(toll('H', page).fee!.amount.toFixed(2)).toBe('95.00');
    }
  });
});
