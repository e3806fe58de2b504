/** What a planned step will lose, as such a step usually does: by the trade, by the workshop file, or by this journal. */
import { assume, type Estimate, exactly } from '../engine/bench/result';
import type { UsualBand } from '../engine/book';
import { balanceRow, type Charge } from '../engine/usual';
import { decimal } from '../quantity/decimal';
import { showDigits } from '../quantity/show';
import { fitting } from '../reports/figures';
import type { Advice, Topic } from './advice';
import { isToldAsBefore } from './as-before';
import { drivenFrom } from './driven-off';
import type { Job } from './job';
import { rangeWords, termWords } from './words';

const TOPIC = 'expected loss';

/** Steps whose loss is a loss; what acid or a cupel takes is their purpose, and told by metal. */
const TOLD: ReadonlySet<string | undefined> = new Set(['cold', 'melt', 'driven off']);

export const expectedLoss: Topic = (job) => {
  const { planned, step, entry } = job;
  const row = balanceRow(entry.verb);
  if (!planned || !step || !row || !TOLD.has(row.kind)) return [];
  // By what the feed is made of it is told closer.
  if (drivenFrom(job) || isToldAsBefore(job)) return [];
  const whole = [...step.inputs, ...step.added].reduce((so, { mass }) => so + (mass?.value.toNumber() ?? 0), 0);
  const usual =
    step.usual ?? (row.kind === 'melt' ? undefined : { ...row.band(feedOnly(whole)), from: 'built-in' as const });
  return whole > 0 && usual ? [told(job, usual, whole)] : [];
};

/** Before a product is written: of what is only divided or dried the loss hangs on nothing else. */
const feedOnly = (feed: number): Charge => ({
  feed,
  metalAdded: 0,
  collector: 0,
  slagMakers: 0,
  metalOut: undefined,
  slagWritten: false,
  ore: false,
  metal: false,
  material: undefined,
  oxygen: undefined,
  cupelGain: undefined,
});

const told = (job: Job, usual: UsualBand, whole: number): Advice => {
  const { less: gasLess, more: gasMore } = usual.gasOpen ?? { less: 0, more: 0 };
  const [least, high] = [usual.low + gasLess, usual.high - gasMore];
  const low = Math.max(0, least);
  const lost = `${low > 0 ? '' : 'up to '}${rangeWords(low > 0 ? span(low, high) : exactly(high), 'g')}`;
  const share = `${low > 0 ? `${percent(low / whole)}..` : ''}${percent(high / whole)} %`;
  const over = least < 0 ? rangeWords(exactly(-least), 'g') : undefined;
  const up =
    over === undefined ? '' : isMelt(job) ? `, or up to ${over} more comes out` : `, or up to ${over} taken up`;
  return {
    topic: TOPIC,
    at: job.entry.head,
    label: high > 0 ? fitting(`${lost} lost (${share}) is usual`, `${lost} lost is usual`) : 'nothing is lost',
    rank: 'result',
    working: () => ({
      says: `${high > 0 ? `Usually ${lost} is lost, ${share} of what goes in${up}` : `Nothing is lost${up}`}.${gasWords(gasLess, gasMore)}`,
      rows: high > 0 ? [...chargeRows(job, whole), `lost              ${lost}`] : [],
      assumed: [
        assume('what such a step usually loses', usual.why),
        ...(over !== undefined && isMelt(job)
          ? [assume('more comes out by oxygen that base metal takes up, crucible wall, and gas that stays', BALANCE)]
          : []),
      ],
    }),
  };
};

/** Gas is no loss, but until it is known how much there was it looks like one, or hides one. */
const gasWords = (less: number, more: number): string => {
  const parts = [
    ...(more > 0 ? [`${rangeWords(exactly(more), 'g')} more`] : []),
    ...(less > 0 ? [`${rangeWords(exactly(less), 'g')} less`] : []),
  ];
  return parts.length > 0 ? ` Its gas may come to ${parts.join(' or ')} than is reckoned.` : '';
};

/** What the shares of a usual loss are taken of. */
const chargeRows = ({ step }: Job, whole: number): readonly string[] => {
  const added = (step?.added ?? []).reduce((so, { mass }) => so + (mass?.value.toNumber() ?? 0), 0);
  const gas = step?.gas.value.toNumber() ?? 0;
  return [
    `goes in           ${termWords(whole, 'g')}`,
    ...(added > 0 ? [`  of it lots      ${termWords(whole - added, 'g')}`] : []),
    ...(added > 0
      ? [`  of it added     ${termWords(added, 'g')}${gas > 0 ? `, ${termWords(gas, 'g')} of it gas` : ''}`]
      : []),
  ];
};

const isMelt = ({ entry }: Job): boolean => balanceRow(entry.verb)?.kind === 'melt';
const BALANCE = 'balance of mass';

const span = (low: number, high: number): Estimate => ({ low, best: (low + high) / 2, high });

const percent = (share: number): string => showDigits(decimal(100 * share), 2);
