/** Whether what is molten goes into the mould. */
import { METALS } from '../../vocabulary/materials/metals';
import { answer, assume, type Estimate, FROM_MEMORY, noAnswer, type Result } from './result';

/** Densities of molten slags, g/mL, by kind. */
const SLAG_MELT: ReadonlyMap<SlagKind, Estimate & { readonly source: string }> = new Map([
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

/** What makes a molten slag heavier or lighter than borosilicate: shares of its mass. */
export interface SlagMake {
  readonly lead: number;
  readonly iron: number;
  /** Salt, and soda that no acid took. */
  readonly salt: number;
}

export interface SlagMelt extends Estimate {
  /** What it is taken for, in words. */
  readonly of: string;
}

/** Molten lead silicate with this share of PbO, g/mL; less lead lies between it and the slag without any. */
const LEAD_SILICATE = { lead: 0.85, low: 6.6, best: 6.7, high: 6.8 };
/** Molten salt 1.55, molten soda ash 1.97 g/mL. */
const SALT_MELT: Estimate = { low: 1.5, best: 1.75, high: 2 };
/** Sulphides of iron with some copper and lead. */
export const MATTE_MELT: Estimate = { low: 3.8, best: 4.3, high: 5 };
const IRON_RICH = 0.25;
const WORTH_A_WORD = 0.05;

/** Density of a molten slag, g/mL, by what it is made of: its parts' volumes add up. */
export function slagMelt({ lead, iron, salt }: SlagMake): SlagMelt {
  const kind: SlagKind = iron > IRON_RICH ? 'iron-rich' : 'borosilicate';
  const base = SLAG_MELT.get(kind)!;
  const heavy = Math.min(1, lead / LEAD_SILICATE.lead);
  const at = (end: keyof Estimate): number => {
    const silicate = 1 / ((1 - heavy) / base[end] + heavy / LEAD_SILICATE[end]);
    return 1 / ((1 - salt) / silicate + salt / SALT_MELT[end]);
  };
  const percent = (share: number): string => `${Math.round(100 * share)} %`;
  const of = [
    ...(salt < 1 - WORTH_A_WORD ? [kind] : []),
    ...(lead > WORTH_A_WORD ? [`with ${percent(lead)} PbO`] : []),
    ...(salt >= 1 - WORTH_A_WORD ? ['salt and soda'] : salt > WORTH_A_WORD ? [`and ${percent(salt)} salt`] : []),
  ].join(' ');
  return { low: at('low'), best: at('best'), high: at('high'), of };
}

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

/** A mould is filled to at most nine tenths, so that the slag does not run over the edge: common practice, no source. */
export const MOULD_FILL = 0.9;
