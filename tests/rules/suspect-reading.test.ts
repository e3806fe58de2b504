/** What a suspect reading should be, and how sure that is. */
import { expect, it } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { suspectReading } from '../../server/rules/suspect-reading';
import { pageWorkspace } from '../support/workspace';

it('the ± of what the rest gives is that of the rest, not of the scale', () => {
  const workspace = pageWorkspace(`2026-05-04
receive D 30.00 g
assay D by xrf
  Au 90.0 %, Ag 9.0 %
cupel K, cupel-body X
  in D 30.00 g
  add lead 30 g
  out B 29.00 g bead
`);
  const told = findingsOf(workspace, 'page.melt', 'all').find(({ code }) => code === 'suspect-reading')!;
  // 0.565 g is 3.2 standard uncertainties of both: 0.18 g, nearly all of it that of the fluorescence.
  expect(told.says).toContain('29.000 g ±0.006 is written');
  expect(told.says).toContain('gives 29.6 g ±0.3: 1.6 times');
});

it('nothing is suspected where a name stands for two lots: two histories ran into one', () => {
  const { wrong } = suspectReading;
  const codesOf = (text: string): readonly string[] =>
    findingsOf(pageWorkspace(text), 'page.melt', 'all').map(({ code }) => code);
  expect(codesOf(wrong)).toContain('suspect-reading');
  const twice = codesOf(`${wrong}\nreceive A 52.00 g`);
  expect(twice).toContain('name-used-twice');
  expect(twice).not.toContain('suspect-reading');
});

it('a figure of the skin that the density disputes is held against no other: that has been said', () => {
  // 50.00 g that are 3.49 mL: 14.3 g/mL have room for 56 to 71 % gold, and the fire assay of the bar is among them.
  const page = (density: string) =>
    findingsOf(
      pageWorkspace(
        `2026-05-04\nreceive A 50.00 g\nassay A by xrf\n  Au 91.6 %\n${density}cast C\n  in A 50.00 g\n  out B 50.00 g bar\nassay B by fire\n  Au 58.5 %`,
      ),
      'page.melt',
      'all',
    ).map(({ code }) => code);
  expect(page('')).toEqual(['fine-missing']);
  expect(page('assay A by density\n  air 50.00 g\n  water 46.50 g 20 °C\n')).toEqual(['density-against-assay']);
});
