/** The silicate degree that the slag of a melt is to have: of the entry, else of the shop, else what runs well. */
import { DEGREES, type DegreeAim, USUAL_AIM } from '../engine/bench/degree';
import type { Amount, Entry } from '../engine/entry';
import type { Place } from '../text/place';
import type { Topic } from './advice';
import { type Job, perJob } from './job';

export const SILICATE_DEGREE = 'silicate-degree';

export interface SlagAim extends DegreeAim {
  /** Where the entry says so. */
  readonly at?: Place;
}

export const slagAim = perJob(({ entry, workspace }: Job): SlagAim => {
  const own = writtenDegree(entry);
  if (own?.degree && isDegree(own.degree)) return { ...aimAt(own.degree, 'as written'), at: own.at };
  const shops = workspace.workshop.limits.silicateDegree;
  return shops ? aimAt(shops, 'limits of workshop.yaml') : USUAL_AIM;
});

const CODE = 'no-such-degree';

/** A degree that no slag can be made to: nothing is held against it. */
export const noSuchDegree: Topic = ({ entry }) => {
  const own = writtenDegree(entry);
  if (!own || (own.degree && isDegree(own.degree))) return [];
  const says = `No slag has such a silicate degree: write a figure or a range from ${DEGREES.low} to ${DEGREES.high}, such as \`${SILICATE_DEGREE} 1.2\`.`;
  return [
    {
      topic: CODE,
      at: own.at,
      rank: 'doubt',
      working: () => ({ says, assumed: [] }),
      wrong: [{ code: CODE, place: own.at, says }],
    },
  ];
};

interface Degree {
  readonly low: number;
  readonly high: number;
}

const isDegree = ({ low, high }: Degree): boolean => low >= DEGREES.low && high <= DEGREES.high;

/** What an entry says of it; undefined behind it where that is no figure, or an open side. */
const writtenDegree = ({ others }: Entry): { readonly at: Place; readonly degree: Degree | undefined } | undefined => {
  const own = others.find(({ word }) => word === SILICATE_DEGREE);
  const [amount] = own?.amounts ?? [];
  return own && amount ? { at: own.place, degree: degreeOf(amount) } : undefined;
};

const aimAt = ({ low, high }: Degree, source: string): DegreeAim => ({
  // The middle without the last digits of a sum.
  degree: { low, best: Number(((low + high) / 2).toFixed(3)), high },
  source,
  chosen: true,
});

/** Of a single figure twice the same. */
const degreeOf = ({ figure }: Amount): Degree | undefined => {
  if (figure?.form === 'range') return { low: figure.low.value.toNumber(), high: figure.high.value.toNumber() };
  const value = figure?.form === 'reading' ? figure.digits.value.toNumber() : undefined;
  return value === undefined ? undefined : { low: value, high: value };
};
