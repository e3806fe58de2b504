import { massFromMoles } from '../../../../server/engine/bench/alloy';
import { heatJoules, heatRow, secondsAt } from '../../../../server/engine/bench/heat';
import {
  goldSilverByLine,
  liquidusCelsius,
  lowestLiquidus,
  meltingRange,
  superheat,
} from '../../../../server/engine/bench/liquidus';
import { exactly } from '../../../../server/engine/bench/result';
import { molarMass } from '../../../../server/vocabulary/compounds';
import { element } from '../../../../server/vocabulary/elements';
import { answered, each, type Inputs, list, number, type Reckoned, span, text } from './given';

const alloyed = (fractions: readonly (readonly [string, number])[]) => answered(meltingRange(new Map(fractions)));
const PPT = ['Au', 'Ag', 'Cu', 'Zn'];
const byPpt = (inputs: Inputs) =>
  alloyed(
    PPT.flatMap((metal) => (`${metal}_ppt` in inputs ? [[metal, number(inputs, `${metal}_ppt`) / 1000] as const] : [])),
  );
const goldSilver = (inputs: Inputs) =>
  alloyed([
    ['Au', number(inputs, 'Au_pct') / 100],
    ['Ag', number(inputs, 'Ag_pct') / 100],
  ]);

const joulesFor = (metal: string) => (inputs: Inputs) =>
  answered(
    heatJoules({
      metalGrams: new Map([[metal, 1000 * number(inputs, 'mass_kg')]]),
      fromCelsius: number(inputs, 't0_C'),
      toCelsius: element(metal)!.meltsAtC!.value + number(inputs, 'superheat_K'),
    }),
  ).best;

export const MELTING: Reckoned = {
  ...each(span(55, 59), (inputs) => element(text(inputs, 'element'))!.meltsAtC!.value),
  ...each(span(60, 61), (inputs) => goldSilver(inputs).liquidusCelsius.best),
  // The gap is quoted for the system: its middle, by mass, stands for it.
  'MET-062': () => {
    const { liquidusCelsius: liquid, solidusCelsius: solid } = alloyed([
      ['Au', 0.5],
      ['Ag', 0.5],
    ]);
    return liquid.best - solid!.best;
  },
  'MET-063': (inputs) => goldSilverByLine(number(inputs, 'Au_pct') / 100),
  'MET-064': (inputs) => {
    const copper = number(inputs, 'Cu_at_pct') / 100;
    return liquidusCelsius([1 - copper, 0, copper]);
  },
  'MET-065': (inputs) => {
    const copper = number(inputs, 'Cu_at_pct') / 100;
    const moles = new Map([
      ['Au', 1 - copper],
      ['Cu', copper],
    ]);
    return 100 * massFromMoles(moles, molarMass).get('Cu')!;
  },
  'MET-066': () => lowestLiquidus(1, 2).celsius,
  'MET-067': () => {
    const { share } = lowestLiquidus(1, 2);
    const moles = new Map([
      ['Ag', 1 - share],
      ['Cu', share],
    ]);
    return 100 * massFromMoles(moles, molarMass).get('Ag')!;
  },
  'MET-068': (inputs) => {
    const copper = number(inputs, 'Cu_at_pct') / 100;
    return liquidusCelsius([0, 1 - copper, copper]);
  },
  // The handbook gives one range for 10 to 20 silver and 5 to 15 copper: the alloy in the middle of it, from solidus to liquidus.
  'MET-069': () => {
    const middle = alloyed([
      ['Au', 0.75],
      ['Ag', 0.15],
      ['Cu', 0.1],
    ]);
    return [middle.solidusCelsius!.best, middle.liquidusCelsius.best];
  },
  ...each(span(70, 71), (inputs) => byPpt(inputs).liquidusCelsius.best),
  ...each(span(72, 75), (inputs) => heatRow(text(inputs, 'element'))!.fusion),
  'MET-076': (inputs) => joulesFor('Ag')(inputs) / 1000,
  'MET-077': (inputs) => joulesFor('Cu')(inputs) / 1000,
  'MET-078': (inputs) => joulesFor('Au')(inputs) / 1000,
  'MET-079': (inputs) =>
    secondsAt(
      joulesFor(text(inputs, 'metal'))(inputs),
      1000 * number(inputs, 'power_kW'),
      number(inputs, 'efficiency'),
    ),
  'MET-080': (inputs) => {
    const [low, high] = list<number>(inputs, 'casting_range_C') as [number, number];
    const pour = { low, high, best: (low + high) / 2 };
    const { kelvin } = superheat(pour, exactly(number(inputs, 'melting_C')));
    return [kelvin.low, kelvin.high];
  },
};
