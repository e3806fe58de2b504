/** By-products whose metal has been a guess for too long, or is too much of what is held. */
import { guessesOn, guessesSay, toldOf } from '../reports/by-products';
import { rule } from './rule';

const page = (assays: string): string => `2026-01-05
receive A 100.00 g, material black-sand
assay A by fire
  Au 20.0 %
pan P1
  in A
  out A1 30.0 g concentrate
  out A2 70.0 g tails, keep
melt M1
  in A1
  add borax-glass 30 g
  out B1 20.80 g button
  out S1 39 g slag, keep
assay B1 by fire, Au 90 %
${assays}2026-05-04
note rain
`;

export const byProductsGuessed = rule({
  code: 'by-products-guessed',
  severity: 'hint',
  atOnce: false,
  title: 'by-products whose metal is only a guess',
  why: 'Slag, tails, sweeps and used cupels count in the stock and in the account with what such things usually hold. Where that is much of what the shop holds, or stays so for long, the account closes by a guess: nobody would see what is gone. Weigh them, sample and assay them, or work them and write what came of it. `fineweight check` looks for it, and the account says it; the editor does not.',
  wrong: page(''),
  right: page('assay A2 by fire, Au 1.2 %\nassay S1 by fire, Au 1.1 %\n'),
  source:
    'older than 30 days and more than 5 % of what was on hand or left in 90 days, or older than 90 days and more than 1 % (common practice, no source); a published reconciliation found slag on hand under-estimated by 5,400 ozt',
  asksForMetals: true,
  lookBack: function* ({ accounts }) {
    for (const metal of ['Au', 'Ag']) {
      const guesses = guessesOn(accounts, metal);
      if (!guesses) continue;
      const [most, ...others] = toldOf(guesses);
      yield {
        place: most!.place,
        says: guessesSay(guesses),
        related: others
          .slice(0, MOST_SHOWN)
          .map(({ name, since, place }) => ({ place, says: `${name}, since ${since}` })),
        causes: [],
      };
    }
  },
});

/** So many others are named. */
const MOST_SHOWN = 5;
