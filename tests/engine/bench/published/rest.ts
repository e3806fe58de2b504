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
import { type Decimal, decimal } from '../../../../server/quantity/decimal';
import { type Money, money } from '../../../../server/quantity/money';
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

/** As typed in the fixture. */
const exact = (inputs: Inputs, key: string): Decimal => decimal(number(inputs, key));
const share = (inputs: Inputs, percentKey: string): Decimal => exact(inputs, percentKey).div(100);
const dollars = (inputs: Inputs, key: string): Money => money(number(inputs, key), 'USD');
const pounds = (inputs: Inputs, key: string): Money => money(number(inputs, key), 'GBP');
const tiers = (inputs: Inputs, key: string): (readonly [Decimal, Decimal])[] =>
  list<[number, number]>(inputs, key).map(([grade, holds]) => [decimal(grade), decimal(holds)]);

const split = (inputs: Inputs) =>
  splitAssay(exact(inputs, 'seller_pct'), exact(inputs, 'buyer_pct'), exact(inputs, 'limit_pct'));

export const SETTLEMENT: Reckoned = {
  'MET-160': fineKilograms,
  'MET-161': (inputs) => (1000 * fineKilograms(inputs)) / TROY_OUNCE_GRAMS,
  'MET-162': (inputs) =>
    payableMass(
      exact(inputs, 'melt_kg').times(1000).div(TROY_OUNCE_GRAMS),
      share(inputs, 'assay_pct'),
      share(inputs, 'payable_pct'),
    ).toNumber(),
  'MET-163': (inputs) =>
    pricePerMetal(
      pounds(inputs, 'parcel_price'),
      exact(inputs, 'ore_tons'),
      pounds(inputs, 'charge_per_ton'),
      exact(inputs, 'metal_tons'),
    ).amount.toNumber(),
  'MET-164': (inputs) =>
    standardOf(
      pounds(inputs, 'price_per_ton'),
      exact(inputs, 'grade_pct'),
      pounds(inputs, 'fixed_charge'),
      pounds(inputs, 'charge_per_unit'),
    ).amount.toNumber(),
  'MET-165': (inputs) => answered(upTo(tiers(inputs, 'tiers_pct_usd'), exact(inputs, 'Pb_pct'))).toNumber(),
  'MET-166': (inputs) => answered(from(tiers(inputs, 'tiers'), exact(inputs, 'grade_g_per_t'))).toNumber(),
  'MET-167': (inputs) => {
    const found = split(inputs);
    return found.outcome === 'mean' ? found.settled.toNumber() : found.outcome;
  },
  'MET-168': (inputs) => split(inputs).outcome,
  'MET-169': (inputs) =>
    fineGrams(
      { value: number(inputs, 'mass_g'), u: number(inputs, 'u_mass_g') },
      { value: number(inputs, 'fineness_ppt') / 1000, u: number(inputs, 'u_fineness_ppt') / 1000 },
    ).value.u,
  'MET-170': (inputs) =>
    proceeds(
      exact(inputs, 'gross_ozt'),
      exact(inputs, 'gold_fineness_ppt').div(1000),
      dollars(inputs, 'price_per_ozt'),
      {
        returnFraction: share(inputs, 'return_pct'),
        chargePerMass: dollars(inputs, 'charge_per_ozt_gross'),
        leastCharge: dollars(inputs, 'min_charge'),
      },
    ).amount.toNumber(),
  'MET-171': (inputs) =>
    refiningGain({
      fineGrams: exact(inputs, 'fine_g'),
      pricePerGram: dollars(inputs, 'price_per_g'),
      payableNow: exact(inputs, 'payable_now'),
      payableLater: exact(inputs, 'payable_later'),
      lossFraction: exact(inputs, 'loss_fraction'),
      cost: dollars(inputs, 'extra_cost'),
    }).amount.toNumber(),
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
