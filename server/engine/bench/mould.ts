/** Whether what is molten goes into the mould. */
import { METALS } from '../../vocabulary/materials/metals';
import {
  type Assumption,
  answer,
  assume,
  type Estimate,
  FROM_MEMORY,
  noAnswer,
  over,
  type Result,
  sumOf,
} from './result';

/** Densities of molten slags, g/mL, by kind. */
export const SLAG_MELT: ReadonlyMap<SlagKind, Estimate & { readonly source: string }> = new Map([
  ['borosilicate', { low: 2.4, best: 2.7, high: 3.0, source: FROM_MEMORY }],
  ['iron-rich', { low: 3.0, best: 3.4, high: 3.8, source: FROM_MEMORY }],
  [
    'lead silicate',
    {
      low: 4.0,
      best: 5.5,
      high: 6.8,
      source: `85 % PbO silicate 6.6 to 6.8 on a ceramics page; less lead ${FROM_MEMORY}`,
    },
  ],
  ['soda-lime glass', { low: 2.4, best: 2.5, high: 2.52, source: 'published soda-lime glass table' }],
] satisfies [SlagKind, Estimate & { readonly source: string }][]);

export type SlagKind = 'borosilicate' | 'iron-rich' | 'lead silicate' | 'soda-lime glass';

/** Density of the molten metals, g/mL, as the materials give it (from memory). */
const MELT_DENSITY: ReadonlyMap<string, number> = new Map(
  METALS.filter(({ composition, meltDensity }) => composition.length === 1 && meltDensity).map(
    ({ composition, meltDensity }) => [composition[0]!.what, meltDensity!.low],
  ),
);

/** Molten alloys are taken to keep to additive volumes within so much either way. */
const METAL_SPREAD = 0.03;

/** Room of molten metal, mL, by grams of each element. No answer for a metal whose density as a melt is not known. */
export function metalMillilitres(metalGrams: ReadonlyMap<string, number>): Result<Estimate> {
  const unknown = [...metalGrams.keys()].find((symbol) => !MELT_DENSITY.has(symbol));
  if (unknown) return noAnswer(`the density of molten ${unknown} is not known`);
  const best = [...metalGrams].reduce((sum, [symbol, grams]) => sum + grams / MELT_DENSITY.get(symbol)!, 0);
  return answer({ best, low: best * (1 - METAL_SPREAD), high: best * (1 + METAL_SPREAD) }, [
    assume('densities of molten metals; volumes add up within 3 %', FROM_MEMORY),
  ]);
}

export interface Pour {
  readonly metalGrams: ReadonlyMap<string, number>;
  readonly slagGrams?: Estimate;
  readonly slagKind?: SlagKind;
}

export interface MouldFill {
  /** Metal and slag together, molten, mL. */
  readonly millilitres: Estimate;
  readonly share: Estimate;
  readonly verdict: 'fits' | 'may run over' | 'runs over';
  /** Moulds of this size that it takes, reckoned on the high bound. */
  readonly moulds: number;
}

/** A mould is filled to at most nine tenths, so that the slag does not run over the edge: common practice, no source. */
export const MOULD_FILL = 0.9;

/** How far a pour fills a mould of so many mL, slag included where it is poured too. */
export function mouldFill(pour: Pour, mouldMillilitres: number): Result<MouldFill> {
  if (!(mouldMillilitres > 0)) return noAnswer("the mould's volume is not known");
  const metal = metalMillilitres(pour.metalGrams);
  if (metal.value === undefined) return metal;
  const slag = SLAG_MELT.get(pour.slagKind ?? 'borosilicate')!;
  const room = pour.slagGrams ? sumOf([metal.value, over(pour.slagGrams, slag)]) : metal.value;
  const share = over(room, mouldMillilitres);
  const assumed: Assumption[] = [
    ...metal.assumed,
    assume('filled to nine tenths at most', 'common practice, no source'),
    ...(pour.slagGrams ? [assume(`slag of ${slag.low} to ${slag.high} g/mL`, slag.source)] : []),
  ];
  return answer(
    { millilitres: room, share, verdict: verdictOf(share), moulds: Math.ceil(share.high / MOULD_FILL) },
    assumed,
  );
}

function verdictOf(share: Estimate): MouldFill['verdict'] {
  if (share.low > MOULD_FILL) return 'runs over';
  return share.high > MOULD_FILL ? 'may run over' : 'fits';
}
