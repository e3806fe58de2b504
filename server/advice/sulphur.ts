/** Sulphides in a charge: what may take their sulphur, how much of it, and niter beside what it burns. */
import { ironForSulphide, niterForSulphide } from '../engine/bench/oxidation';
import { type Assumption, assume, BERINGER, type Estimate, FROM_MEMORY } from '../engine/bench/result';
import { SULPHIDES, shareOf } from '../engine/bench/slag';
import { chargeWarnings, sharesOf } from '../engine/bench/slag-warnings';
import { heldInCharge } from '../engine/bench/together';
import type { ChargeItem } from '../engine/gas';
import type { Advice, Topic, Working, Wrong } from './advice';
import type { Job } from './job';
import { niterBeyond, tooMuchNiter } from './niter-room';
import { openAdds, type Smelt, smeltOf } from './smelt';
import { IRONS, isWithLitharge, NITERS, sulphidesIn } from './sulphur-taken';
import { bestWords, estimateWords, guessWords, rangeWords, termWords } from './words';

const TOPIC = 'sulphur';

export const sulphur: Topic = (job) => {
  const smelt = smeltOf(job);
  if (!smelt) return [];
  return [...unmet(job, smelt), ...niterBesideFuel(job, smelt)];
};

interface Ways {
  readonly niter: Estimate;
  readonly iron: Estimate;
  readonly rows: readonly string[];
  readonly assumed: readonly Assumption[];
}

/** A gram of a mineral wants so much: the least by what it wants at the least, the most by the most. */
const neededBy = (items: readonly ChargeItem[], need: (formula: string) => Estimate | undefined): Estimate => {
  const at = (end: keyof Estimate): Estimate =>
    heldInCharge(items, (what) => (SULPHIDES.has(what) ? (need(what)?.[end] ?? 0) : 0));
  return { low: at('low').low, best: at('best').best, high: at('high').high };
};

const niterFor = (formula: string): Estimate | undefined => niterForSulphide(formula, 1).value;
const ironFor = (formula: string): Estimate | undefined => ironForSulphide(formula, 1).value;

const waysFor = (items: readonly ChargeItem[]): Ways => {
  const rows = [...sulphidesIn(items)].map(([formula, grams]) => {
    const [niter, iron] = [niterFor(formula), ironFor(formula)];
    const says = [niter && `niter × ${rangeWords(niter, '').trim()}`, iron && `iron × ${rangeWords(iron, '').trim()}`];
    return `${formula.padEnd(18)}${estimateWords(grams, 'g')}: ${says.filter(Boolean).join(', or ')}`;
  });
  const [niter, iron] = [neededBy(items, niterFor), neededBy(items, ironFor)];
  return {
    niter,
    iron,
    rows: [...rows, `niter in all      ${estimateWords(niter, 'g')}`, `iron in all       ${estimateWords(iron, 'g')}`],
    assumed: [
      assume('each mineral within its bounds, all together no more than the feed', 'balance of mass'),
      assume('niter to sulphur dioxide and lower oxide at the least, to sulphate at the most', FROM_MEMORY),
      assume('pyrite wants at most 2 to 2.5 parts of niter', BERINGER),
      assume('iron takes the sulphur as FeS, a fifth to a half over', FROM_MEMORY),
      assume('a matte holds gold: roast dead, or niter, or iron', BERINGER),
    ],
  };
};

const CAUTION =
  'Roasting and niter give off sulphur dioxide, and arsenic where there is any: outdoors or below a hood, as local codes have it. Niter deflagrates: mix small amounts, never grind it with sulphide, fill the crucible under half and heat slowly.';

/** Enough sulphide for a matte that nobody means to make, and nothing that takes its sulphur. */
export const isSulphurLeft = ({ entry }: Job, smelt: Smelt): boolean =>
  chargeWarnings([...smelt.feed, ...smelt.added]).some(({ what, sure }) => what === 'sulphur-unmet' && sure) &&
  !entry.flows.some(({ kind }) => kind === 'matte' || kind === 'speiss');

/** Nothing stands against the melt: all is of known make, no mercury to retort, no sulphur that nothing takes. */
export const isFit = (job: Job, smelt: Smelt): boolean => isKnown(smelt) && !isSulphurLeft(job, smelt);

/** The same, whatever becomes of its sulphur. */
export const isKnown = ({ unknown, unknownAdded, feed }: Smelt): boolean =>
  unknown.length === 0 && !unknownAdded && feed.every(({ material }) => shareOf(material, MERCURY) === 0);

const MERCURY: ReadonlySet<string> = new Set(['Hg']);

const unmet = (job: Job, smelt: Smelt): readonly Advice[] => {
  const { entry, planned } = job;
  if (!isSulphurLeft(job, smelt)) return [];
  const items = [...smelt.feed, ...smelt.added];
  const grams = heldInCharge(items, (what) => (SULPHIDES.has(what) ? 1 : 0));
  const ways = waysFor(items);
  const tight = niterBeyond(job, ways.niter);
  const open = openAdds(entry).find(({ material }) => NITERS.has(material!.name) || IRONS.has(material!.name));
  // Beside litharge niter is reckoned by the lead that is to come down.
  if (planned && open && NITERS.has(open.material!.name) && isWithLitharge(entry)) return [];
  const need = open && (NITERS.has(open.material!.name) ? ways.niter : ways.iron);
  const says = `The charge holds ${rangeWords(grams, 'g')} of sulphides and nothing that takes their sulphur: matte will hold gold. Roast the feed dead first, or add about ${bestWords(ways.niter, 'g')} of niter (${rangeWords(ways.niter, 'g')}); about ${bestWords(ways.iron, 'g')} of iron (${rangeWords(ways.iron, 'g')}) frees the lead and copper of some, but pyrite stays a matte that is to be kept.${tight ? ` ${tight.says}` : ''}`;
  const working = (): Working => ({
    says: open && need ? takenWords(grams, open.material!.name, need) : says,
    rows: ways.rows,
    assumed: ways.assumed,
    todo: open ? CAUTION : `${roastFirst(job)} ${CAUTION}`,
  });
  if (open && need) {
    const range = `${open.material!.name} ${rangeWords(need, 'g')}`;
    if (planned && tight && NITERS.has(open.material!.name)) return [tooMuchNiter(TOPIC, open, need, tight, working)];
    return planned
      ? [
          {
            topic: TOPIC,
            at: open.place,
            rank: 'result',
            working,
            writes: [{ flow: open, amount: guessWords(need, 'g'), range }],
          },
        ]
      : [];
  }
  return [
    {
      topic: TOPIC,
      at: entry.head,
      label: 'sulphur: roast first, or iron, or niter',
      rank: 'doubt',
      working,
      wrong: [{ code: 'sulphur-left', place: entry.head, says }],
      choices: [
        { title: 'Burn the sulphur with niter', line: 'add niter ?' },
        { title: 'Take the sulphur with iron', line: 'add iron ?' },
      ],
    },
  ];
};

/** How a roast before it is planned, in the words of a page. */
const roastFirst = ({ step }: Job): string => {
  const name = step?.inputs[0]?.flow.lot?.name ?? 'the feed';
  return `To roast it first, plan that before this: \`plan roast\`, \`in ${name}\`, \`out ${name}-roasted\`, and take \`${name}-roasted\` here; to have niter or iron reckoned in, name it: \`add niter ?\`.`;
};

/** Of a plan that names what is to take the sulphur. */
const takenWords = (sulphides: Estimate, name: string, need: Estimate): string => {
  const what = `The charge holds ${rangeWords(sulphides, 'g')} of sulphides: about ${bestWords(need, 'g')} of ${name} (${rangeWords(need, 'g')})`;
  return NITERS.has(name)
    ? `${what} burns them. Or roast the feed dead first, without niter.`
    : `${what} frees the lead and copper of some, but pyrite stays a matte that holds gold and is to be kept. Or roast the feed dead first.`;
};

/** What the shares are of: `niter             280 g of 688 g = 41 %`. */
const runawayRows = (charge: readonly ChargeItem[]): readonly string[] => {
  const whole = charge.reduce((so, { massGrams }) => so + massGrams, 0);
  const { niter, fuel } = sharesOf(charge);
  const row = (name: string, share: number): string =>
    `${name.padEnd(17)} ${termWords(share * whole, 'g')} of ${termWords(whole, 'g')} = ${Math.round(100 * share)} %`;
  return [row('niter', niter), row('sulphide, carbon', fuel)];
};

const niterBesideFuel = (job: Job, { feed, added }: Smelt): readonly Advice[] => {
  const found = chargeWarnings([...feed, ...added]).find(({ what, sure }) => what === 'niter-with-fuel' && sure);
  if (!found) return [];
  const flow = job.entry.flows.find(({ word, material }) => word === 'add' && NITERS.has(material?.name ?? ''));
  const place = flow?.place ?? job.entry.head;
  const says = `${found.says} ${found.cure}`;
  const wrong: Wrong = { code: 'niter-with-fuel', place, says };
  return [
    {
      topic: 'niter',
      at: place,
      label: 'niter beside fuel can run away',
      rank: 'doubt',
      working: () => ({ says, rows: runawayRows([...feed, ...added]), assumed: [assume(found.limit, found.source)] }),
      wrong: [wrong],
    },
  ];
};
