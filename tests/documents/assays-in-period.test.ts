/** Assays of a period: who reads high in it, not in what came before or after. */
import { describe, expect, it } from 'vitest';
import { pictureOf } from '../../server/pictures/pictures';
import { formed, made, ofPage } from '../support/documents';

/** In May we find 3 to 4 ‰ more than they, in June as much less. */
const PAGE = [
  ['2026-05-04', '58.3', '58.0'],
  ['2026-05-11', '58.4', '58.1'],
  ['2026-05-18', '58.2', '57.8'],
  ['2026-06-01', '57.7', '58.0'],
  ['2026-06-08', '57.8', '58.1'],
  ['2026-06-15', '57.6', '58.0'],
]
  .map(
    ([day, own, theirs], at) =>
      `${day}\nreceive A${at} 40.00 g\nassay A${at} by xrf, Au ${own} %\nassay A${at} by fire at harbour-lab, Au ${theirs} %`,
  )
  .join('\n');
const WORKSHOP = 'parties: { harbour-lab: lab }\n';

const against = (choice: { readonly from?: string; readonly to?: string }): readonly string[] =>
  made(ofPage(PAGE, WORKSHOP), 'assay-comparison', choice)
    .sections.filter(({ title }) => title === 'Our own assays against others on the same metal')
    .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'table' ? block.rows : [])))
    .map(({ cells }) => `${cells[3]!.text}: ${cells[4]!.text}, ${cells.at(-1)!.text}`);

const MAY = { from: '2026-05-01', to: '2026-05-31' };

describe('our assays against others', () => {
  it('are those of the period', () => {
    expect(against(MAY)).toEqual(['3: +3.3 ‰, we find more, from 3 pairs only']);
    expect(against({ from: '2026-06-01' })).toEqual(['3: -3.3 ‰, we find less, from 3 pairs only']);
    expect(against({})).toEqual(['6: 0 ‰, no bias shown']);
  });

  it('are drawn for the same period, with the same figures and words', () => {
    const picture = pictureOf(ofPage(PAGE, WORKSHOP), { kind: 'assays', ...MAY });
    expect(typeof picture === 'string' ? picture : picture.says).toBe(
      '3 pairs of the days 2026-05-01 to 2026-05-31, on one metal each. In the mean ours less theirs is +3.3 ‰ (95 %: +1.9 to +4.8), a bias that is shown, from 3 pairs only.',
    );
  });

  it('are drawn for each who assayed beside us, told apart by the whole of a name', () => {
    const page = `${PAGE}\n2026-06-20\nreceive B 40.00 g\nassay B by xrf, Au 58.3 %\nassay B by fire at "harbour-lab, annex", Au 57.9 %`;
    const workspace = ofPage(page, 'parties: { harbour-lab: lab, "harbour-lab, annex": lab }\n');
    const pictures = made(workspace, 'assay-comparison', {})
      .sections.filter(({ title }) => title === 'Assay against assay')
      .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'picture' ? [block.says] : [])));
    expect(pictures).toEqual([
      expect.stringMatching(/^6 pairs of the whole record, .* no bias shown\.$/),
      '1 pair of the whole record, on one metal each. Ours less theirs is +4 ‰: one pair tells nothing of a bias.',
    ]);
  });

  it('that are all off by the same, as rounded ones are by chance, show nothing yet', () => {
    const alike = PAGE.replaceAll('57.8 %', '57.9 %');
    const [row] = made(ofPage(alike, WORKSHOP), 'assay-comparison', MAY)
      .sections.filter(({ title }) => title === 'Our own assays against others on the same metal')
      .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'table' ? block.rows : [])));
    expect(row!.cells.map(({ text }) => text)).toContain('all pairs differ by the same, which tells nothing of chance');
  });

  it('of a period with none are said to be none', () => {
    expect(against({ from: '2026-07-01' })).toEqual([]);
    expect(formed('md', 'assay-comparison', { from: '2026-07-01' }, ofPage(PAGE, WORKSHOP))).toContain(
      'No lot has an assay of our own and one of another.',
    );
  });

  it('have their unit in every form: shares of one, as it stands in the text per mille', () => {
    const csv = formed('csv', 'assay-comparison', MAY, ofPage(PAGE, WORKSHOP));
    expect(csv.split('\n').find((line) => line.includes('+3.3 ‰'))).toMatch(/,0\.0033333333,1,/);
  });
});
