import { describe, expect, test } from 'vitest';
import { crucibleFill } from '../../server/engine/crucible';
import { decimal } from '../../server/quantity/decimal';
import { near } from '../support/cases';
import { bookOf, shopOf } from '../support/entries';

const place = undefined;
const own = (name: string, low: number, high: number) =>
  ({ name, place, group: 'own', composition: [], givesOff: [], bulkDensity: { low, high }, price: undefined }) as const;
const shop = {
  ...shopOf(),
  crucibles: new Map([
    ['C4', { name: 'C4', place, volumeMillilitres: 400, weightGrams: decimal(900), material: undefined }],
  ]),
  materials: new Map([
    ['dust', own('dust', 2, 2.5)],
    ['glass', own('glass', 1, 1.25)],
  ]),
};

const fill = (text: string) => {
  const book = bookOf(text, shop);
  return crucibleFill(book.step('M'), shop, (flow) => (flow.lot ? book.story(flow.lot.name).make : undefined));
};
const melt = (dust: string, glass: string, crucible = ', crucible C4') =>
  `receive T ${dust}\n  material dust\nmelt M${crucible}\n  in T\n  add glass ${glass}\n  out B 5 g`;

describe('fill', () => {
  // 200/2.5 + 100/1.25 = 160 mL packed, 200/2 + 100/1 = 200 mL loose, of 400 mL.
  test('from packed to loose', () => {
    const found = fill(melt('200 g', '100 g'))!;
    near(found.lowMillilitres, 160, 1e-9);
    near(found.highMillilitres, 200, 1e-9);
    expect([found.share, found.verdict, found.unknown]).toEqual([{ low: 0.4, high: 0.5 }, 'under', []]);
  });
  // The limit is 0.75: 300 mL. 300/2.5 + 200/1.25 = 280, loose 350; 400/2.5 + 200/1.25 = 320.
  test.each([
    ['300 g', 'may be over'],
    ['400 g', 'over'],
  ])('%s of dust with 200 g of glass: %s', (dust, verdict) => expect(fill(melt(dust, '200 g'))?.verdict).toBe(verdict));
  test('what is not known is named, and a least says nothing', () => {
    const found = fill('melt M, crucible C4\n  in X 20 g\n  add glass\n  out B 5 g')!;
    expect([found.unknown, found.verdict]).toEqual([['X', 'glass'], undefined]);
  });
  test('no crucible named, or none that is declared', () => {
    expect(fill(melt('200 g', '100 g', ''))).toBeUndefined();
    expect(fill(melt('200 g', '100 g', ', crucible C9'))).toBeUndefined();
  });
});
