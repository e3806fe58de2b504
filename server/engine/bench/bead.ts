/** The bead to expect of a button whose metals are known within bounds. */
import { type BeadExpected, beadExpected, KEPT, lossOfMix } from './cupel-loss';
import { answer, assume, BERINGER, type Estimate, noAnswer, type Result } from './result';

/** What a button holds, g; gold and silver apart, or their sum alone. */
export interface ButtonMetals {
  readonly gold: Estimate | undefined;
  readonly silver: Estimate | undefined;
  readonly precious: Estimate;
  readonly platinum: Estimate;
  /** All lead, the button's own with what is added. */
  readonly leadGrams: number;
}

/** Bead, and where gold and silver are told apart what of each the cupel keeps, g. */
export type BeadWithin = Pick<BeadExpected, 'beadGrams'> & Partial<BeadExpected>;

export function beadWithin({ gold, silver, precious, platinum, leadGrams }: ButtonMetals): Result<BeadWithin> {
  if (!(precious.best > 0)) return noAnswer('there is neither gold nor silver');
  if (!gold || !silver) return beadOfSum(precious, platinum, leadGrams);
  const at = (end: keyof Estimate): Result<BeadExpected> =>
    beadExpected({ goldGrams: gold[end], silverGrams: silver[end], leadGrams }, platinum[end]);
  const [low, best, high] = [at('low'), at('best'), at('high')];
  if (best.value === undefined) return best;
  const all = [low.value, best.value, high.value].filter((one) => one !== undefined);
  const across = (pick: (one: BeadExpected) => Estimate): Estimate => ({
    low: Math.min(...all.map((one) => pick(one).low)),
    best: pick(best.value).best,
    high: Math.max(...all.map((one) => pick(one).high)),
  });
  const bead = across(({ beadGrams }) => beadGrams);
  // What is known of both together may be narrower than both apart.
  const most = (precious.high + platinum.high) / (1 - KEPT.high);
  return answer(
    {
      beadGrams: { ...bead, high: Math.max(bead.best, Math.min(bead.high, most)) },
      goldInCupelGrams: across(({ goldInCupelGrams }) => goldInCupelGrams),
      silverInCupelGrams: across(({ silverInCupelGrams }) => silverInCupelGrams),
    },
    best.assumed,
  );
}

function beadOfSum(precious: Estimate, platinum: Estimate, leadGrams: number): Result<BeadWithin> {
  const loss = lossOfMix(precious.best, leadGrams, undefined);
  const beadGrams = {
    low: precious.low * (1 - loss.high) + platinum.low,
    best: (precious.best * (1 - loss.best) + platinum.best) / (1 - KEPT.best),
    high: (precious.high * (1 - loss.low) + platinum.high) / (1 - KEPT.high),
  };
  return answer({ beadGrams }, [
    assume('gold and silver are not told apart: from all gold to all silver', 'bounds'),
    assume('a finished bead keeps 0 to 0.15 % of lead and copper', BERINGER),
  ]);
}
