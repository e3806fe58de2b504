/** More work planned on a lot than it pays for. */
import type { Route } from '../engine/selling/route';
import { gainSays } from '../reports/selling/routes';
import { refiningOf, routesOf } from '../workspace/selling/routes';
import { rule } from './rule';

const WORKS: ReadonlyMap<string, readonly Route['key'][]> = new Map([
  ['cupel', ['cupel', 'cupel and part']],
  ['part', ['part']],
]);

const before = `2026-05-04
quote Au 2480.00 USD/ozt
quote Ag 29.00 USD/ozt
receive A GRAMS g
  material lemel
assay A by fire, corrected
  Au 60.00 %, Ag 20.00 %
plan cupel K1
  in A
`;

export const refiningNotWorth = rule({
  code: 'refining-not-worth',
  severity: 'hint',
  atOnce: false,
  title: 'refining that does not pay its cost',
  why: 'By the terms and prices on file the lot brings more as it is than after this work: what it costs in metal, lead, acid and hours is more than the better terms are worth. It is told only where the difference is more than twice its uncertainty. `fineweight routes LOT` shows each way with its sum, and where both would pay the same.',
  wrong: before.replace('GRAMS', '30.00'),
  right: before.replace('GRAMS', '300.00'),
  workshop: `shop: { labour: 30.00 USD/h }
parties:
  quay-refiner:
    role: refiner
    terms:
      2026-01-01:
        pays: { Au: { 30 %: 95 %, 70 %: 98 % }, Ag: 90 % }
`,
  source:
    'losses and hours: common practice, no source; told beyond twice the standard uncertainty of the difference (GUM)',
  plan: function* (entry, workspace) {
    const keys = WORKS.get(entry.verb);
    const lots = entry.flows.flatMap(({ word, lot }) => (word === 'in' && lot ? [lot] : []));
    const [lot] = lots;
    const routes = keys && lot && lots.length === 1 ? routesOf(workspace, lot.name) : undefined;
    if (!routes || typeof routes === 'string' || routes.guessed) return;
    const refining = refiningOf(routes.ranked, keys);
    if (!refining || refining.direct.route.buyer.by === 'common practice') return;
    const { gain, u } = refining.comparison;
    if (gain > -2 * u) return;
    yield { place: entry.verbPlace, says: `${gainSays(refining)} \`fineweight routes ${lot!.name}\` shows each way.` };
  },
});
