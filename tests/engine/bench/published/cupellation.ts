import { ABSORBS_FROM_CELSIUS, CUPEL_HEAT, cupelHoldsAt, lithargeFrom } from '../../../../server/engine/bench/cupel';
import { leadForGold, leadForJewellery, leadForSilver } from '../../../../server/engine/bench/cupel-lead';
import { bullionGoldLoss, goldLoss, lossPercent, silverLoss } from '../../../../server/engine/bench/cupel-loss';
import { goldByProof, silverByCheck } from '../../../../server/engine/bench/proof';
import { exactly } from '../../../../server/engine/bench/result';
import { answered, each, type Inputs, list, number, type Reckoned, span } from './given';

const silverLead = (inputs: Inputs) =>
  answered(leadForSilver(number(inputs, 'alloy_g'), number(inputs, 'Cu_pct') / 100));

const silverLost = (inputs: Inputs): number =>
  100 *
  answered(
    silverLoss({
      silverMilligrams: number(inputs, 'silver_mg'),
      leadGrams: number(inputs, 'lead_g'),
      copperGrams: 'copper_g' in inputs ? number(inputs, 'copper_g') : 0,
      heat: inputs.heat === 'clear yellow' ? 'clear yellow' : 'bright red',
    }),
  ).best;

export const CUPELLATION: Reckoned = {
  ...each([...span(115, 118), 'MET-120'], (inputs) => silverLead(inputs).best),
  'MET-119': (inputs) => [silverLead(inputs).low, silverLead(inputs).high],
  ...each(
    span(121, 122),
    (inputs) => answered(leadForGold(number(inputs, 'sample_g'), number(inputs, 'Cu_pct') / 100)).best,
  ),
  ...each(span(123, 124), (inputs) => answered(leadForJewellery(number(inputs, 'sample_mg'), inputs.nickel === true))),
  'MET-125': (inputs) => lithargeFrom(number(inputs, 'lead_g')),
  ...each(
    span(126, 127),
    (inputs) => answered(cupelHoldsAt(number(inputs, 'cupel_g'), exactly(number(inputs, 'absorption')))).best,
  ),
  ...each(span(128, 135), silverLost),
  ...each(
    span(136, 137),
    (inputs) =>
      100 *
      answered(
        goldLoss({
          goldMilligrams: number(inputs, 'gold_mg'),
          silverMilligrams: 'silver_mg' in inputs ? number(inputs, 'silver_mg') : 0,
        }),
      ).best,
  ),
  'MET-138': (inputs) =>
    answered(
      silverByCheck(
        number(inputs, 'sample_g'),
        list<number>(inputs, 'assay_beads_g'),
        number(inputs, 'check_silver_g'),
        list<number>(inputs, 'check_beads_g'),
      ),
    ),
  'MET-139': (inputs) =>
    answered(
      goldByProof(number(inputs, 'sample_mg'), number(inputs, 'cornet_mg'), [
        {
          taken: number(inputs, 'proof_gold_taken_mg'),
          purity: number(inputs, 'proof_purity'),
          cornet: number(inputs, 'proof_cornet_mg'),
        },
      ]),
    ),
  'MET-140': (inputs) => {
    const gold = number(inputs, 'fine_gold_grain');
    // Nine carat in a charge of twenty grains is seven and a half grains of gold.
    const byCharge = 100 * answered(bullionGoldLoss(gold / 20));
    const plain = lossPercent(number(inputs, 'loss_grain'), gold);
    return Math.abs(byCharge - plain) < 1e-9 ? byCharge : Number.NaN;
  },
  'MET-141': () => ABSORBS_FROM_CELSIUS,
  'MET-142': () => {
    const { low, high } = CUPEL_HEAT.get('jewellery assay')!;
    return [low, high];
  },
};
