import { bulkVolume, crucibleNeeded } from '../../../../server/engine/bench/charge';
import {
  adjustTo,
  BICARBONATE_PER_ASH,
  silicaOfBoraxGlass,
  sodaAshForSilica,
} from '../../../../server/engine/bench/degree';
import { boraxGlassForIron, FLUX_PER_IRON_OXIDE } from '../../../../server/engine/bench/flux';
import {
  forButton,
  leadButton,
  NITER_THEORY,
  niterAfterTrial,
  niterForSulphide,
  reducingPower,
  reducingPowerOfTrial,
  sulphideReduces,
} from '../../../../server/engine/bench/oxidation';
import { pureItem, slagOf } from '../../../../server/engine/bench/slag';
import { type ChargeItem, gasGivenOff, gasLitres } from '../../../../server/engine/gas';
import { molarMass } from '../../../../server/vocabulary/compounds';
import { givesOffOf, oxygenToCarbon } from '../../../../server/vocabulary/materials';
import { answered, each, type Inputs, list, number, type Reckoned, span, table, text } from './given';

const lostBy = (formula: string): number =>
  givesOffOf([{ what: formula, fraction: 1 }]).reduce((sum, gas) => sum + gas.fraction, 0);

const degree = (charge: readonly ChargeItem[]): number => slagOf(charge).degree!.best;
const oxides = (key: string) => (inputs: Inputs) =>
  degree(table(inputs, key).map(([formula, grams]) => pureItem(formula, grams)));

/** What a mole of carbon takes of litharge, as lead: C + 2 PbO. */
const leadOfCarbon = (grams: number): number => {
  const oxygenPerLead = (oxygenToCarbon([{ what: 'PbO', fraction: 1 }]) * molarMass('PbO')) / molarMass('Pb');
  const oxygenOfCarbon = (2 * molarMass('O')) / molarMass('C');
  return (grams * oxygenOfCarbon) / oxygenPerLead;
};

const sulphide = (formula: string) => () => {
  const { low, high } = answered(sulphideReduces(formula));
  return [low, high];
};

export const FLUX: Reckoned = {
  ...each(span(81, 82), (inputs) => lostBy(text(inputs, 'formula'))),
  'MET-083': (inputs) => number(inputs, 'Na2CO3_g') * BICARBONATE_PER_ASH,
  'MET-084': (inputs) => number(inputs, 'Na2CO3_g') * lostBy('Na2CO3'),
  'MET-085': (inputs) => number(inputs, 'NaHCO3_g') * lostBy('NaHCO3'),
  'MET-086': (inputs) => number(inputs, 'K2CO3_g') * lostBy('K2CO3'),
  'MET-087': (inputs) => number(inputs, 'CaO_g') / (1 - lostBy('CaCO3')),
  'MET-088': (inputs) => {
    const soda = pureItem('Na2CO3', number(inputs, 'Na2CO3_g'));
    const withGas = { ...soda, material: { ...soda.material, givesOff: givesOffOf(soda.material.composition) } };
    const gas = gasGivenOff([withGas, pureItem('SiO2', 1000)]);
    return gasLitres(gas.moles, number(inputs, 't_C'), 1000 * number(inputs, 'p_kPa'));
  },
  'MET-089': (inputs) => sodaAshForSilica(number(inputs, 'SiO2_g')),
  'MET-090': (inputs) =>
    answered(adjustTo(slagOf([pureItem('SiO2', number(inputs, 'SiO2_g'))]), 2)).bicarbonateGrams.best,
  ...each(span(91, 92), (inputs) => reducingPowerOfTrial(number(inputs, 'lead_g'), number(inputs, 'agent_g'))),
  'MET-093': (inputs) => leadOfCarbon(number(inputs, 'carbon_g')),
  'MET-094': (inputs) =>
    answered(forButton({ buttonGrams: number(inputs, 'button_g'), redLeadGrams: number(inputs, 'red_lead_g') }))
      .flourGrams.best,
  'MET-095': (inputs) =>
    answered(
      leadButton({
        agentGrams: new Map([
          ['red-lead', number(inputs, 'red_lead_g')],
          ['flour', number(inputs, 'flour_g')],
        ]),
      }),
    ).best,
  'MET-096': sulphide('FeS2'),
  'MET-097': sulphide('ZnS'),
  'MET-098': sulphide('PbS'),
  'MET-099': () => reducingPower('FeS2')!.leadPerGram.best,
  'MET-100': () => {
    const powers = ['FeAsS', 'CuFeS2', 'ZnS', 'Cu12Sb4S13'].map((formula) => reducingPower(formula)!.leadPerGram);
    return [Math.min(...powers.map(({ low }) => low)), Math.max(...powers.map(({ high }) => high))];
  },
  'MET-101': (inputs) => -number(inputs, 'KNO3_g') * reducingPower('niter')!.leadPerGram.best,
  'MET-102': (inputs) => number(inputs, 'KNO3_g') * NITER_THEORY,
  ...each(span(103, 105), (inputs) => answered(niterAfterTrial(number(inputs, 'lead_from_3g_ore_g')))),
  'MET-106': (inputs) => answered(niterForSulphide('FeS2', number(inputs, 'pyrite_g'))).high,
  ...each(span(107, 108), oxides('oxides_g')),
  'MET-109': oxides('oxides_pct'),
  'MET-110': (inputs) =>
    degree([
      pureItem('SiO2', number(inputs, 'quartz_g')),
      pureItem('NaHCO3', number(inputs, 'NaHCO3_g')),
      pureItem('PbO', number(inputs, 'PbO_flux_g')),
      pureItem('Na2B4O7·10H2O', number(inputs, 'borax_decahydrate_g')),
    ]),
  'MET-111': (inputs) => silicaOfBoraxGlass(number(inputs, 'Na2B4O7_g'), number(inputs, 'target_ratio')),
  'MET-112': (inputs) => answered(boraxGlassForIron(number(inputs, 'FeO_g'))).best,
  'MET-113': () => FLUX_PER_IRON_OXIDE.best,
  'MET-114': (inputs) => {
    const items = list<[string, number, number]>(inputs, 'charge').map(([name, grams, density]) => ({
      name,
      grams,
      bulkDensity: { low: density, high: density },
    }));
    return crucibleNeeded(bulkVolume(items).millilitres, number(inputs, 'fill_fraction')).best;
  },
};
