import {
  assayTonGrams,
  finenessPptFromKarat,
  markFor,
  TROY_OUNCE_GRAMS,
} from '../../../../server/engine/bench/fineness';
import { inquart, partingAlloyMass, silverToAdd, silverWindow } from '../../../../server/engine/bench/inquart';
import { exactly } from '../../../../server/engine/bench/result';
import {
  acidAtRates,
  acidWeight,
  gasMoles,
  nitricFor,
  nitricGrams,
  nitricMillilitres,
  nitricStrength,
  silverBack,
  silverInChloride,
  silverOnCopper,
  waterToThin,
} from '../../../../server/engine/bench/wet';
import { gasLitres } from '../../../../server/engine/gas';
import { answered, each, type Inputs, list, number, type Reckoned, span } from './given';

const bottle = (inputs: Inputs, density: string, percent: string) => ({
  fraction: number(inputs, percent) / 100,
  gramsPerMillilitre: number(inputs, density),
});

const acidVolume = (metal: string, grams: string) => (inputs: Inputs) =>
  nitricMillilitres(
    answered(nitricFor(metal, number(inputs, grams), 'strong')),
    bottle(inputs, 'acid_density_g_per_ml', 'acid_pct'),
  );

const inquarted = (inputs: Inputs) =>
  answered(
    inquart(
      number(inputs, 'sample_g'),
      exactly(number(inputs, 'gold_pct') / 100),
      exactly(number(inputs, 'silver_pct') / 100),
      number(inputs, 'ratio_Ag_to_Au'),
    ),
  ).silverGrams.best;

export const FINENESS: Reckoned = {
  ...each(span(1, 4), (inputs) => finenessPptFromKarat(number(inputs, 'karat'))),
  'MET-005': (inputs) =>
    answered(markFor('Au', number(inputs, 'assay_ppt'), list<number>(inputs, 'permitted_marks_ppt'))).finenessPpt,
  'MET-006': (inputs) =>
    silverToAdd(number(inputs, 'gold_mg'), number(inputs, 'silver_mg'), number(inputs, 'ratio_Ag_to_Au')),
  ...each(span(7, 8), inquarted),
  'MET-009': (inputs) => {
    const { low, high } = silverWindow(number(inputs, 'sample_mg'), number(inputs, 'expected_fineness_ppt') / 1000);
    return [low, high];
  },
  'MET-010': (inputs) => partingAlloyMass(number(inputs, 'gold_mg'), number(inputs, 'ratio_Ag_to_Au')),
  'MET-011': (inputs) => answered(nitricFor('Ag', number(inputs, 'silver_g'), 'dilute')),
  'MET-012': (inputs) => answered(nitricFor('Ag', number(inputs, 'silver_g'), 'strong')),
  'MET-013': (inputs) => answered(nitricFor('Cu', number(inputs, 'copper_g'), 'dilute')),
  'MET-014': (inputs) => answered(nitricFor('Cu', number(inputs, 'copper_g'), 'strong')),
  'MET-015': acidVolume('Ag', 'silver_g'),
  'MET-016': acidVolume('Cu', 'copper_g'),
  'MET-017': (inputs) =>
    acidAtRates([
      { grams: number(inputs, 'silver_g'), millilitresPerGram: number(inputs, 'ml_per_g_Ag') },
      { grams: number(inputs, 'copper_g'), millilitresPerGram: number(inputs, 'ml_per_g_Cu') },
    ]),
  'MET-018': (inputs) =>
    acidWeight(
      answered(nitricFor('Ag', number(inputs, 'silver_lb'), 'dilute')),
      answered(nitricStrength(number(inputs, 'acid_sg'))),
    ),
  ...each(span(19, 20), (inputs) => 100 * answered(nitricStrength(number(inputs, 'sg')))),
  'MET-021': (inputs) => nitricGrams(number(inputs, 'ml'), bottle(inputs, 'sg', 'pct')),
  'MET-022': (inputs) => silverInChloride(number(inputs, 'AgCl_g')),
  'MET-023': (inputs) => answered(silverBack(number(inputs, 'silver_g'))).saltGrams.low,
  'MET-024': (inputs) => silverOnCopper(number(inputs, 'copper_g')),
  'MET-025': (inputs) => answered(silverBack(number(inputs, 'silver_g'))).nitrateGrams,
  'MET-026': (inputs) => gasLitres(answered(gasMoles('Ag', number(inputs, 'silver_g'), 'strong')), 20),
  'MET-027': (inputs) =>
    answered(
      waterToThin(number(inputs, 'acid_ml'), bottle(inputs, 'acid_sg', 'acid_pct'), number(inputs, 'target_pct') / 100),
    ),
  'MET-028': (inputs) => number(inputs, 'ozt') * TROY_OUNCE_GRAMS,
  'MET-029': () => assayTonGrams('short'),
  'MET-030': () => assayTonGrams('long'),
};
