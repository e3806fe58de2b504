/** A name that is nobody's gives no empty document: it would say that nothing was bought from them, and nothing is theirs. */
import { expect, it } from 'vitest';
import { made, ofPage } from '../support/documents';

const workspace = ofPage(
  '2026-05-04\nreceive A 20.00 g from keller\nreceive B 10.00 g, owner anna\n',
  'parties:\n  halden: own\n  quay-refiner: refiner\n',
);

it.each([
  [
    'purchase-record',
    { party: 'keler' },
    'Nobody is called keler, in the journal or in workshop.yaml. Did you mean keller?',
  ],
  ['stock-take', { owner: 'bert' }, 'Nobody is called bert, in the journal or in workshop.yaml.'],
  ['under-way', { party: 'quay' }, 'Nobody is called quay, in the journal or in workshop.yaml.'],
])('%s of %o is refused', (kind, choice, says) => {
  expect(() => made(workspace, kind, choice)).toThrow(says);
});

it('whoever is known may have nothing', () => {
  for (const party of ['keller', 'anna', 'quay-refiner', 'halden']) {
    expect(() => made(workspace, 'under-way', { party })).not.toThrow();
    expect(() => made(workspace, 'stock-take', { owner: party })).not.toThrow();
  }
});

it('the shop is meant by its own name', () => {
  const [own, shop] = ['halden', 'the shop'].map((owner) => made(workspace, 'stock-take', { owner }));
  expect(own).toEqual(shop);
  expect(JSON.stringify(own)).toContain('"A"');
  expect(JSON.stringify(own)).not.toContain('"B"');
});
