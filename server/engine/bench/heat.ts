/** Energy to melt metal and slag, and the least time that a furnace needs for it. */
import { element } from '../../vocabulary/elements';
import {
  type Assumption,
  answer,
  assume,
  COMMON_PRACTICE,
  type Estimate,
  exactly,
  FROM_MEMORY,
  noAnswer,
  over,
  type Result,
  sumOf,
  times,
} from './result';

/** Heat of a metal, J/g: mean heat capacity of the solid from 20 °C to melting, heat of fusion, heat capacity of the liquid. */
export interface HeatRow {
  readonly symbol: string;
  /** J/(g K). */
  readonly solid: number;
  /** J/g. */
  readonly fusion: number;
  /** J/(g K). */
  readonly liquid: number;
  readonly source: string;
}

const SGTE = 'unary data of Dinsdale (SGTE)';
const LATENT = 'heats of fusion, general engineering table';
const row = (symbol: string, solid: number, fusion: number, liquid: number, source: string): HeatRow => ({
  symbol,
  solid,
  fusion,
  liquid,
  source,
});

export const HEATS: readonly HeatRow[] = [
  row('Ag', 0.2616, 104.7, 0.31, SGTE),
  row('Cu', 0.4349, 208.7, 0.494, SGTE),
  row('Au', 0.1419, 63.7, 0.157, `${SGTE}, ${FROM_MEMORY}`),
  row('Pb', 0.135, 23, 0.145, `${LATENT}; heat capacities ${FROM_MEMORY}`),
  row('Zn', 0.42, 112, 0.48, `${LATENT}; heat capacities ${FROM_MEMORY}`),
  row('Sn', 0.24, 59, 0.25, `${LATENT}; heat capacities ${FROM_MEMORY}`),
  row('Ni', 0.56, 293, 0.73, `${LATENT}; heat capacities ${FROM_MEMORY}`),
  row('Fe', 0.68, 247, 0.82, `${LATENT}; heat capacities ${FROM_MEMORY}`),
];

const BY_SYMBOL: ReadonlyMap<string, HeatRow> = new Map(HEATS.map((each) => [each.symbol, each]));

export const heatRow = (symbol: string): HeatRow | undefined => BY_SYMBOL.get(symbol);

/** Slag from cold to 1100-1200 °C, J/g, water and gas not counted. */
export const SLAG_JOULES_PER_GRAM: Estimate = { low: 1100, best: 1350, high: 1600 };

export interface ToHeat {
  /** Metal in g by element symbol. */
  readonly metalGrams: ReadonlyMap<string, number>;
  /** Slag and fluxes once their gas is gone, g. */
  readonly slagGrams?: number;
  readonly fromCelsius: number;
  readonly toCelsius: number;
}

/** Metals take their heat as if each melted at its own point; for an alloy that is right within a few per cent. */
const ALLOY_SPREAD = 0.05;

/**
 * Energy to bring a charge to a temperature, J: E = Σ m (c Δt + L + c' Δt'). The crucible, the lining and the water in
 * the charge come on top. No answer for a metal whose heat is not known, or for a target colder than the start.
 */
export function heatJoules(charge: ToHeat): Result<Estimate> {
  const { metalGrams, slagGrams = 0, fromCelsius, toCelsius } = charge;
  if (!(toCelsius >= fromCelsius)) return noAnswer('the target is colder than the start');
  if (slagGrams > 0 && toCelsius < SLAG_FLUID_CELSIUS) return noAnswer('slag is not fluid at that temperature');
  const metals = [...metalGrams].filter(([, grams]) => grams > 0);
  const unknown = metals.find(([symbol]) => !heatRow(symbol) || !element(symbol)?.meltsAtC);
  if (unknown) return noAnswer(`the heat of ${element(unknown[0])?.name ?? unknown[0]} is not known`);
  const spread = metals.length > 1 ? ALLOY_SPREAD : 0.02;
  const metal = metals.map(([symbol, grams]) => grams * perGram(symbol, fromCelsius, toCelsius));
  const best = metal.reduce((sum, joules) => sum + joules, 0);
  const own = { best, low: best * (1 - spread), high: best * (1 + spread) };
  const slag = times(SLAG_JOULES_PER_GRAM, slagGrams);
  return answer(
    sumOf([own, slag]),
    sourcesOf(
      metals.map(([symbol]) => symbol),
      slagGrams > 0,
    ),
  );
}

const SLAG_FLUID_CELSIUS = 900;

/** Parts of the heat of a gram: J/(g K) and K as a solid, J/g to melt, J/(g K) and K as a liquid; nought where it does not come to that. */
export interface HeatParts {
  readonly solid: number;
  readonly solidKelvin: number;
  readonly fusion: number;
  readonly liquid: number;
  readonly liquidKelvin: number;
}

/** Undercooled liquid in an alloy goes on at the liquid's heat capacity. */
export function heatParts(symbol: string, fromCelsius: number, toCelsius: number): HeatParts | undefined {
  const heat = heatRow(symbol);
  const melts = element(symbol)?.meltsAtC?.value;
  if (!heat || melts === undefined) return undefined;
  const { solid, fusion, liquid } = heat;
  if (fromCelsius >= melts) return { solid, solidKelvin: 0, fusion: 0, liquid, liquidKelvin: toCelsius - fromCelsius };
  const wouldMelt = toCelsius >= melts - UNDERCOOLED_K;
  if (!wouldMelt) return { solid, solidKelvin: toCelsius - fromCelsius, fusion: 0, liquid, liquidKelvin: 0 };
  return { solid, solidKelvin: melts - fromCelsius, fusion, liquid, liquidKelvin: toCelsius - melts };
}

/** J per g of a metal between two temperatures. */
function perGram(symbol: string, fromCelsius: number, toCelsius: number): number {
  const parts = heatParts(symbol, fromCelsius, toCelsius);
  return parts ? parts.solid * parts.solidKelvin + parts.fusion + parts.liquid * parts.liquidKelvin : 0;
}

/** So far below its own melting point a metal is still taken for molten, as copper is in a silver-copper melt. */
const UNDERCOOLED_K = 310;

function sourcesOf(symbols: readonly string[], slag: boolean): Assumption[] {
  const metals = symbols.map((symbol) =>
    assume(`heat of ${element(symbol)?.name ?? symbol}`, heatRow(symbol)?.source ?? ''),
  );
  const rest = assume('crucible, lining and water in the charge are not counted', 'a lower bound');
  return slag ? [...metals, assume('slag takes 1.1 to 1.6 kJ/g', FROM_MEMORY), rest] : [...metals, rest];
}

/** Share of a furnace's power that gets into the charge. All from memory. */
const EFFICIENCY: ReadonlyMap<'resistance' | 'gas' | 'induction', Estimate> = new Map([
  ['resistance', { low: 0.1, best: 0.25, high: 0.4 }],
  ['gas', { low: 0.03, best: 0.08, high: 0.15 }],
  ['induction', { low: 0.4, best: 0.55, high: 0.7 }],
] satisfies ['resistance' | 'gas' | 'induction', Estimate][]);

export interface MeltingTime {
  /** No furnace of this power can be quicker, min. */
  readonly leastMinutes: number;
  /** With the usual share of the power in the charge, min; none where the kind of furnace is not known. */
  readonly usualMinutes: Estimate | undefined;
}

/** Time to put so much energy into a charge. Energy in J, power in W; a logged time below the least is a slip or a hot start. */
export function meltingTime(
  joules: Estimate,
  powerWatts: number,
  kind?: 'resistance' | 'gas' | 'induction',
): Result<MeltingTime> {
  if (!(powerWatts > 0)) return noAnswer("the furnace's power is not known");
  const seconds = over(joules, powerWatts);
  const efficiency = kind && EFFICIENCY.get(kind);
  const usualMinutes = efficiency && over(over(seconds, 60), efficiency);
  return answer({ leastMinutes: seconds.low / 60, usualMinutes }, [
    assume('least: all of the power goes into the charge', 'conservation of energy'),
    ...(efficiency
      ? [assume(`${efficiency.low} to ${efficiency.high} of the power reaches the charge`, FROM_MEMORY)]
      : []),
  ]);
}

/** Time at a known share of the power, s. */
export const secondsAt = (joules: number, powerWatts: number, efficiency: number): number =>
  over(exactly(joules), powerWatts * efficiency).best;

/** Temperature of a colour of heat by eye, °C, the darkest first (Fulton, A Manual of Fire Assaying); ±30 to 50 K. */
export const HEAT_COLOURS: readonly { readonly colour: string; readonly celsius: number }[] = [
  { colour: 'lowest red', celsius: 470 },
  { colour: 'dark red', celsius: 566 },
  { colour: 'cherry', celsius: 746 },
  { colour: 'light cherry', celsius: 843 },
  { colour: 'orange', celsius: 900 },
  { colour: 'light orange', celsius: 941 },
  { colour: 'yellow', celsius: 1000 },
  { colour: 'light yellow', celsius: 1080 },
  { colour: 'white', celsius: 1205 },
];

const COLOUR_SPREAD_K = 40;

/** How hot is what shows this colour, by eye: the nearest of the scale. */
export const colourAt = (celsius: number): string =>
  HEAT_COLOURS.reduce((best, one) => (Math.abs(one.celsius - celsius) < Math.abs(best.celsius - celsius) ? one : best))
    .colour;

/** `light cherry to yellow`. */
export const coloursWords = (low: number, high: number): string => {
  const [from, to] = [colourAt(low), colourAt(high)];
  return from === to ? from : `${from} to ${to}`;
};

export const BY_EYE: Assumption = assume(
  `colours of heat, good to ${COLOUR_SPREAD_K} K by eye`,
  `C. H. Fulton, A Manual of Fire Assaying; spread ${COMMON_PRACTICE}`,
);
