/** The built-in usual losses as a table: each band worked out for a hundred grams of charge, so that what is shown is what is judged by. */
import { BALANCES, type BalanceRow, type Charge, FEEDS_WITH_OWN_LOSS } from './usual';

export interface UsualRow {
  readonly verb: string;
  /** Of which charge; empty where it is all one. */
  readonly charge: string;
  /** In per cent of what goes in; below 0 where the step takes something up. */
  readonly low: number;
  readonly high: number;
  /** What the figures rest on, with its source. */
  readonly why: string;
}

const METAL: Charge = {
  feed: 100,
  metalAdded: 0,
  collector: 0,
  slagMakers: 0,
  metalOut: 100,
  slagWritten: true,
  ore: false,
  metal: true,
  material: undefined,
  oxygen: 0,
  cupelGain: undefined,
};

const FLUXED: Charge = { ...METAL, feed: 90, slagMakers: 10, metalOut: 90 };
const SMELTED: Charge = { ...METAL, feed: 40, slagMakers: 60, metalOut: 0, ore: true, metal: false };
const CUPELLED: Charge = { ...METAL, feed: 50, metalAdded: 50, collector: 50, metalOut: 40 };

const charges = ({ kind }: BalanceRow): readonly (readonly [string, Charge])[] => {
  if (kind === 'melt')
    return [
      ['metal alone', METAL],
      ...FEEDS_WITH_OWN_LOSS.map((material): [string, Charge] => [`\`${material}\` alone`, { ...METAL, material }]),
      ['metal with a tenth of flux, slag weighed', FLUXED],
      ['ore with one and a half times its weight of flux, slag weighed', SMELTED],
    ];
  if (kind === 'cupel')
    return [
      ['cupel not weighed', CUPELLED],
      ['half lead, cupel weighed', { ...CUPELLED, cupelGain: 60 }],
    ];
  return [['', METAL]];
};

export const usualTable = (): readonly UsualRow[] =>
  BALANCES.filter(({ kind }) => kind !== 'sample').flatMap((row) =>
    charges(row).map(([charge, of]) => {
      const { low, high, why } = row.band(of);
      return { verb: row.verb, charge, low, high, why };
    }),
  );

export const usualOf = (verb: string): readonly UsualRow[] => usualTable().filter((row) => row.verb === verb);

/** `0..0.5 %`, `5 % taken up to 51 % lost`. */
export const usualRange = ({ low, high }: UsualRow): string => {
  const [from, to] = [low, high].map((percent) => `${Number(percent.toFixed(percent >= 10 ? 0 : 2))}`);
  if (low >= 0) return low === high ? `${to} %` : `${from}..${to} %`;
  return `${Number((-low).toFixed(1))} % taken up to ${to} % lost`;
};
