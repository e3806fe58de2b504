/** The bar register: a page, and what must stand of its bars. */
import { expect, it } from 'vitest';
import { formed, ofPage } from '../support/documents';

const PAGE = `2026-05-04
receive A 50.00 g
receive B 20.00 g
cast C1
  in A 50.00 g
  out BAR-1 49.97 g bar, at strongbox
cast C2
  in B 20.00 g
  out BAR-2 19.98 g bar, note cold shut at one end
assay BAR-1 by fire at harbour-lab, corrected
  Au 91.40 ±0.05 % expanded
2026-05-05
ship V1 to harbour-refiner
  in BAR-2 19.98 g
  sealed "0041"
`;

const register = (choice = {}): string => formed('md', 'bar-register', choice, ofPage(PAGE));

const line = (of: string, begins: string): string | undefined =>
  of.split('\n').find((one) => one.startsWith(`| ${begins} |`));

it('a bar with its weight, its fineness, who found it, and where it lies', () => {
  expect(line(register(), 'BAR-1')).toMatch(
    /^\| BAR-1 \| 2026-05-04 \| cast C1 \| the shop \| 49.97 g .*\| 91.40 % ±0.05 .*\| 45.67 g .*\| assayed by fire at harbour-lab \| on hand, at strongbox \|/,
  );
});

it('a bar that left, with its seal and the note on its line', () => {
  expect(line(register(), 'BAR-2')).toContain('shipped in ship V1 to harbour-refiner');
  expect(register()).toMatch(/\| BAR-2 \| 0041 \| cold shut at one end \|/);
});

it('says which fineness no assay gave', () => {
  expect(register()).toContain('- BAR-2: its fineness rests on no assay of its own');
  expect(register()).not.toContain('- BAR-1: its fineness');
});

it('says how a bar is written where there is none', () => {
  expect(formed('md', 'bar-register', {}, ofPage('2026-05-04\nreceive A 50.00 g\n'))).toContain(
    'No bar is written in this period: `out NAME 112.05 g bar` makes one.',
  );
});

it('of a silver bar its silver is what its fineness rests on', () => {
  // 50.05 g × 98.9 % is 49.50 g of silver; the gold in it, which no assay told, makes no difference.
  const page = `2026-05-04
receive G 10.00 g
assay G by xrf
  Au 40.0 %, Ag 60.0 %
receive S 100.00 g
assay S by fire
  Ag 99.0 %
melt M1
  in 0.10 g of G
  in 50.00 g of S
  out BAR-9 50.05 g bar
assay BAR-9 by fire at harbour-lab
  Ag 98.9 %
`;
  const text = formed('md', 'bar-register', {}, ofPage(page));
  expect(line(text, 'BAR-9')).toContain('assayed by fire at harbour-lab');
  expect(line(text, 'BAR-9')).toMatch(/\| 49.5 g ±0.\d+ \|/);
  expect(text).not.toContain('BAR-9: its fineness');
});
