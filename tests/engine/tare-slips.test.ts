/** Slips with a vessel: its tare forgotten, taken off twice, or miswritten. And what a scale's own error does to gross less tare. */
import { describe, expect, test } from 'vitest';
import { hintsOf } from '../../server/features/hints';
import { uncertainty } from '../../server/quantity/measured';
import { rectangular } from '../../server/quantity/weighing';
import { findingsOf } from '../../server/rules/findings';
import { near } from '../support/cases';
import { bookOf, shopOf } from '../support/entries';
import { fixed, pageWorkspace } from '../support/workspace';

const WEIGHED = 'receive A from own-dredge\n  gross 238.42 g, tare 18.20 g\n';

const offers = (text: string): string[] =>
  bookOf(text)
    .story('A')
    .handovers.flatMap(({ slips }) =>
      slips.map(({ kind, reads, inTare }) => `${kind} ${inTare ? 'tare ' : ''}${reads}`),
    );

describe('a tare that is written', () => {
  test('forgotten in the next entry: its gross weight was copied for the net', () => {
    // 238.42 − 18.20 = 220.22
    expect(offers(`${WEIGHED}weigh A 238.42 g`)[0]).toBe('tare 220.22 g');
  });
  test('taken off a weight that was net already', () => {
    // Net 220.22 was written as gross: it should have been taken from 238.42.
    expect(offers('receive A\n  gross 220.22 g, tare 18.20 g\nweigh A 220.22 g')).toContain('tare 238.42 g');
  });
  test('miswritten itself', () => {
    // 238.42 − 12.80 is 225.62; with 18.20 it is the 220.22 that was weighed next
    const text = 'receive A\n  gross 238.42 g, tare 12.80 g\nweigh A 220.22 g';
    expect(offers(text)[0]).toBe('swap tare 18.20 g');
    const workspace = pageWorkspace(`2026-07-01\n${text}`);
    const [found] = findingsOf(workspace, 'page.melt');
    expect(found!.says).toContain('Likeliest: two digits swapped, tare 18.20 g in receive A.');
    expect(fixed(workspace, found!)).toContain('gross 238.42 g, tare 18.20 g');
  });
  test('in order', () => expect(offers(`${WEIGHED}weigh A 220.22 g`)).toEqual([]));
});

describe('a scale with a permissible error', () => {
  const shop = shopOf({ scales: { bench: { division: undefined, permissibleError: 0.03 } } });
  const net = (text: string) => bookOf(text, shop).story('A').events[0]!.weight.mass!;
  // Gross and tare lean apart: u² is twice (0.03/√3)² beside the rounding; GUM 5.1.2.
  test('leans at the empty vessel as at the full one', () => {
    const rounding = (2 * 0.01 ** 2) / 6;
    near(
      uncertainty(net('receive A, on bench\n  gross 238.42 g, tare 18.20 g')) ** 2,
      2 * rectangular(0.03) ** 2 + rounding,
      1e-9,
    );
  });
});

describe('what is left of a lot in millilitres', () => {
  const text = (second: string) =>
    `receive W 500 mL\nsplit Y1\n  in 200 mL of W\n  out W1 200 mL solution\nsplit Y2\n  in ${second} of W\n  out W2 ${second} solution`;
  const says = (second: string) =>
    findingsOf(pageWorkspace(`2026-07-01\n${text(second)}`), 'page.melt').map((finding) => finding.says);
  test('more than is left', () => {
    expect(says('400 mL')).toEqual(['Of W only 300 mL is left; 400 mL is 100 mL more.']);
    expect(says('0.4 L')).toEqual(['Of W only 300 mL is left; 400 mL is 100 mL more.']);
  });
  test('stands at the end of the line', () => {
    const hints = hintsOf(pageWorkspace(`2026-07-01\n${text('250 mL')}`), 'page.melt').map(({ label }) => label);
    expect(hints).toEqual(expect.arrayContaining(['300 mL of W left', '50 mL of W left']));
  });
  test('just what is left', () => expect(says('300 mL')).toEqual([]));
});
