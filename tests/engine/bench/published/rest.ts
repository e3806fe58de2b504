import { exposureLimit, type LimitKind, leadLimitMicrograms } from '../../../../server/engine/bench/exposure';
import { fineGrams, TROY_OUNCE_GRAMS } from '../../../../server/engine/bench/fineness';
import { oxidePerMetal } from '../../../../server/engine/bench/oxidation';
import {
  from,
  payableMass,
  pricePerMetal,
  proceeds,
  refiningGain,
  splitAssay,
  standardOf,
  upTo,
} from '../../../../server/engine/bench/terms';
import { airToThin } from '../../../../server/engine/bench/wet';
import { molarMass } from '../../../../server/vocabulary/compounds';
import { answered, each, type Inputs, list, number, type Reckoned, span, text } from './given';

export const OXIDATION: Reckoned = {
  ...each(span(143, 152), (inputs) => answered(oxidePerMetal(text(inputs, 'metal'), text(inputs, 'oxide')))),
  'MET-153': (inputs) => number(inputs, 'iron_g') * answered(oxidePerMetal('Fe', 'Fe2O3')),
};

export const ATOMIC_WEIGHTS: Reckoned = {
  ...each(span(154, 158), (inputs) => molarMass(text(inputs, 'element'))),
  'MET-159': (inputs) => molarMass(text(inputs, 'formula')),
};

const fineKilograms = (inputs: Inputs): number =>
  fineGrams({ value: 1000 * number(inputs, 'melt_kg'), u: 0 }, { value: number(inputs, 'assay_pct') / 100, u: 0 }).value
    .value / 1000;

const split = (inputs: Inputs) =>
  splitAssay(number(inputs, 'seller_pct'), number(inputs, 'buyer_pct'), number(inputs, 'limit_pct'));

export const SETTLEMENT: Reckoned = {
  'MET-160': fineKilograms,
  'MET-161': (inputs) => (1000 * fineKilograms(inputs)) / TROY_OUNCE_GRAMS,
  'MET-162': (inputs) =>
    payableMass(
      (1000 * number(inputs, 'melt_kg')) / TROY_OUNCE_GRAMS,
      number(inputs, 'assay_pct') / 100,
      number(inputs, 'payable_pct') / 100,
    ),
  'MET-163': (inputs) =>
    pricePerMetal(
      number(inputs, 'parcel_price'),
      number(inputs, 'ore_tons'),
      number(inputs, 'charge_per_ton'),
      number(inputs, 'metal_tons'),
    ),
  'MET-164': (inputs) =>
    standardOf(
      number(inputs, 'price_per_ton'),
      number(inputs, 'grade_pct'),
      number(inputs, 'fixed_charge'),
      number(inputs, 'charge_per_unit'),
    ),
  'MET-165': (inputs) => answered(upTo(list<[number, number]>(inputs, 'tiers_pct_usd'), number(inputs, 'Pb_pct'))),
  'MET-166': (inputs) => answered(from(list<[number, number]>(inputs, 'tiers'), number(inputs, 'grade_g_per_t'))),
  'MET-167': (inputs) => {
    const found = split(inputs);
    return found.outcome === 'mean' ? found.settled : found.outcome;
  },
  'MET-168': (inputs) => split(inputs).outcome,
  'MET-169': (inputs) =>
    fineGrams(
      { value: number(inputs, 'mass_g'), u: number(inputs, 'u_mass_g') },
      { value: number(inputs, 'fineness_ppt') / 1000, u: number(inputs, 'u_fineness_ppt') / 1000 },
    ).value.u,
  'MET-170': (inputs) =>
    proceeds(number(inputs, 'gross_ozt'), number(inputs, 'gold_fineness_ppt') / 1000, number(inputs, 'price_per_ozt'), {
      returnFraction: number(inputs, 'return_pct') / 100,
      chargePerMass: number(inputs, 'charge_per_ozt_gross'),
      leastCharge: number(inputs, 'min_charge'),
    }),
  'MET-171': (inputs) =>
    refiningGain({
      fineGrams: number(inputs, 'fine_g'),
      pricePerGram: number(inputs, 'price_per_g'),
      payableNow: number(inputs, 'payable_now'),
      payableLater: number(inputs, 'payable_later'),
      lossFraction: number(inputs, 'loss_fraction'),
      cost: number(inputs, 'extra_cost'),
    }),
};

/** How the fixture words a limit, and how the list does. */
const KINDS: Readonly<Record<string, LimitKind>> = {
  'OSHA PEL': 'OSHA PEL',
  'OSHA PEL 8 h TWA': 'OSHA PEL',
  'OSHA PEL ceiling': 'OSHA ceiling',
  'NIOSH REL TWA': 'NIOSH REL',
  'NIOSH REL 15 min STEL': 'NIOSH 15 min',
  'NIOSH IDLH': 'NIOSH IDLH',
};

export const HAZARDS: Reckoned = {
  ...each(span(172, 182), (inputs) => exposureLimit(text(inputs, 'substance'), KINDS[text(inputs, 'limit')]!)!.value),
  'MET-183': (inputs) => answered(leadLimitMicrograms(number(inputs, 'hours'))),
  'MET-184': (inputs) => airToThin(number(inputs, 'NO2_L'), number(inputs, 'limit_ppm')),
};
