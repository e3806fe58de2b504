/**
 * A made-up shop over any number of lots, each followed from an assayed feed through a melt with one of two fluxes to a bar that is assayed here,
 * shipped and settled. Truth first, then readings with the errors that scale and laboratory truly have; what is wrong is asked for.
 */
import { nextDate } from '../../server/text/calendar';
import { normal, seeded } from './random';

export const YEAR_WORKSHOP = `shop: { name: Tarn End }
scales:
  bench: { division: 0.01 g, capacity: 2000 g, repeatability: 0.006 g }
crucibles:
  C4: { volume: 400 mL, material: clay-graphite }
  C5: { volume: 400 mL, material: clay-graphite }
furnaces:
  F1: { power: 3 kW }
recipes:
  quick: { borax-glass: 1 parts, soda-ash: 1 parts }
  slow: { borax-glass: 2 parts, silica: 1 parts }
parties:
  tarn-end: own
  harbour-refiner: refiner
  harbour-lab: lab
`;

export interface Year {
  readonly lots: number;
  readonly seed?: number;
  /** Share of the gold that is lost beyond the usual, from lot number `from` on. */
  readonly creep?: { readonly from: number; readonly share: number };
  /** Our xrf finds so much more than there is, as a mass fraction. */
  readonly xrfBias?: number;
  /** Share of the gold left in the slag by each flux. */
  readonly inSlag?: { readonly quick: number; readonly slow: number };
}

const fixed = (value: number, places: number): string => value.toFixed(places);

/** One page a year; a lot every second day. */
export const shopYear = ({ lots, seed = 1, creep, xrfBias = 0.002, inSlag }: Year): Map<string, string> => {
  const random = seeded(seed);
  const left = inSlag ?? { quick: 0.004, slow: 0.002 };
  const pages = new Map<string, string[]>();
  let date = '2016-01-04';
  for (let lot = 0; lot < lots; lot++) {
    const flux = lot % 2 === 0 ? 'quick' : 'slow';
    const [feed, gold] = [60 + 120 * random.next(), 0.55 + 0.3 * random.next()];
    const silver = 0.9 - gold;
    const worse = creep && lot >= creep.from ? creep.share : 0;
    const slagged = left[flux] * (1 + 0.2 * normal(random));
    const lost = Math.max(0, 0.0012 + 0.0003 * normal(random)) + worse;
    const bar = feed * (1 - lost - 0.001 - slagged * gold);
    const barGold = (feed * gold * (1 - slagged - lost)) / bar;
    const slag = 20 + feed - bar - feed * lost;
    const slagGold = (feed * gold * slagged) / slag;
    const percent = (share: number, u: number): string => fixed(100 * (share + u * normal(random)), 2);
    const grams = (weight: number): string => fixed(weight + 0.0075 * normal(random), 2);
    const name = `${lot + 1}`;
    const weight = grams(bar);
    const lines = [
      date,
      `receive L${name} from own-dredge, ${grams(feed)} g on bench`,
      '  material scrap',
      `assay L${name} by fire at harbour-lab, corrected`,
      `  Au ${percent(gold, 0.0003)} ±0.06 % expanded, Ag ${percent(silver, 0.0005)} ±0.10 % expanded`,
      `melt M${name}, crucible ${lot % 3 === 0 ? 'C5' : 'C4'}, furnace F1, hand ${lot % 5 === 0 ? 'CD' : 'AB'}`,
      `  in L${name}`,
      `  add ${flux} 20.00 g on bench`,
      '  09:00 charged',
      `  09:${fixed(30 + (flux === 'quick' ? 0 : 8) + 3 * random.next(), 0).padStart(2, '0')} quiet`,
      '  10:10 poured 1150 °C',
      `  out B${name} ${weight} g bar on bench`,
      `  out S${name} ${grams(slag)} g slag on bench, keep`,
      `assay S${name} by fire`,
      `  Au ${fixed(100 * Math.max(0, slagGold * (1 + 0.03 * normal(random))), 3)} ±0.05 % expanded`,
      `assay B${name} by xrf`,
      `  Au ${percent(barGold + xrfBias, 0.0015)} ±0.30 % expanded`,
      `ship V${name} to harbour-refiner`,
      `  in B${name} ${weight} g on bench`,
      `settle V${name}`,
      `  Au ${percent(barGold, 0.0003)} ±0.06 % expanded, Ag ${percent((feed * silver * (1 - lost)) / bar, 0.0005)} ±0.10 % expanded`,
      '',
    ];
    const page = `${date.slice(0, 4)}.melt`;
    pages.set(page, [...(pages.get(page) ?? []), ...lines]);
    date = nextDate(nextDate(date));
  }
  return new Map([...pages].map(([file, lines]) => [file, lines.join('\n')]));
};
