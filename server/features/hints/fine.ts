/** Fine metal: what a lot holds as it goes in and comes out, what its assays come to, and what of it a step cannot account for. */
import { assayed } from '../../engine/accounts/assays';
import type { MetalBalance } from '../../engine/accounts/balance';
import { fromMeasured, type Inexact, spread } from '../../engine/accounts/inexact';
import type { Knowledge, Known, MetalGround } from '../../engine/accounts/known';
import type { Metals } from '../../engine/accounts/metals';
import { pooled } from '../../engine/accounts/pooled';
import type { Segment } from '../../engine/accounts/segments';
import { type Fine, fineOf, isGuessed } from '../../engine/accounts/stock';
import type { Entry, Flow } from '../../engine/entry';
import { showMass, showQuantity } from '../../quantity/show';
import { LONGEST_LABEL } from '../../reports/figures';
import { asMeasured, fineWords, groundWords, isShown, shareSpread, shareWords } from '../../reports/fine';
import { escapeMarkdown, fenced, paragraphs } from '../../reports/markdown';
import { isInDoubt } from '../../rules/steps';
import { accountsOf } from '../../workspace/accounts';
import { type Draft, RANK, type Subject } from './draft';

/** Made anew with each version of the journal: what is known of a lot may come from any page. */
export const fineDrafts = (subject: Subject): readonly Draft[] => [
  ...subject.entry.flows.flatMap((flow) => flowDraft(subject, flow)),
  ...assayDraft(subject),
  ...balanceDraft(subject),
];

const flowDraft = ({ workspace, entry }: Subject, flow: Flow): readonly Draft[] => {
  const isMove = flow.word === 'in' || flow.word === 'out';
  const { metals } = accountsOf(workspace);
  const segment = isMove && entry.verb !== 'ship' && !flow.none ? metals.lineage.segment(flow) : undefined;
  if (!segment) return [];
  const amount = amountOf(segment, flow);
  const fine = shownOf(fineOf(metals.best(segment), amount));
  // What came out stands above with its ground: on its way in the grams are enough.
  const label = flow.word === 'in' ? plainLabel(fine) : labelOf(fine);
  if (label === undefined) return [];
  return [
    {
      at: flow.place,
      label,
      short: shortLabel(fine),
      tooltip: () => fineTooltip(segment, fine),
      family: 'fine',
      rank: flow.word === 'out' ? RANK.metal : RANK.extra,
    },
  ];
};

const amountOf = (segment: Segment, flow: Flow): Inexact | undefined => {
  const weight = segment.events.find((event) => event.flow === flow)?.weight;
  const amount = weight?.mass ?? weight?.volume;
  return amount?.value.greaterThan(0) ? fromMeasured(amount) : undefined;
};

/** A guess of less says nothing that anybody would act on. */
const LEAST_GUESS_GRAMS = 0.05;

/** Gold and silver; together where they are not told apart. Other metals stand in the tooltip of a lot's story. */
const shownOf = (all: readonly Fine[]): readonly Fine[] => {
  const shown = all.filter((one) => one.grams && isShown(one) && isWorthAWord(one));
  const apart = shown.filter(({ metal }) => metal === 'Au' || metal === 'Ag');
  return apart.length > 0 ? apart : shown.filter(({ metal }) => metal === 'Au+Ag');
};

const isWorthAWord = ({ grams, known: { ground } }: Fine): boolean =>
  ground !== 'guessed' || grams!.value >= LEAST_GUESS_GRAMS;

const GROUND_LABEL: Readonly<Record<MetalGround, string>> = {
  assayed: 'assayed',
  inferred: 'inferred',
  carried: 'carried',
  guessed: 'a guess',
};

/** `Au 45.1 g ±0.4, Ag 3.8 g, inferred`: as much of it as fits, gold first. */
const labelOf = (fine: readonly Fine[]): string | undefined => {
  const [first, ...rest] = fine;
  if (!first) return undefined;
  const ground = GROUND_LABEL[first.known.ground];
  const whole = `${first.metal} ${isAnything(first) ? plainWords(first) : fineWords(first)}`;
  const others = rest.map((one) => `${one.metal} ${plainWords(one)}`);
  const wordings = [
    [whole, ...others, ground],
    [`${first.metal} ${plainWords(first)}`, ...others, ground],
    [whole, ground],
    [whole],
  ];
  return wordings.map((parts) => parts.join(', ')).find((words) => words.length <= LONGEST_LABEL);
};

/** A guess that is good to no more than a half: its ± would say little, or go below nothing. */
const isAnything = ({ grams, known: { ground } }: Fine): boolean =>
  ground === 'guessed' && grams !== undefined && 4 * spread(grams) >= grams.value;

const plainLabel = (fine: readonly Fine[]): string | undefined =>
  fine.length > 0 ? fine.map((one) => `${one.metal} ${plainWords(one)}`).join(', ') : undefined;

const shortLabel = ([first]: readonly Fine[]): string | undefined => first && `${first.metal} ${plainWords(first)}`;

const plainWords = (fine: Fine): string => showMass(asMeasured(fine.grams!, isGuessed(fine)));

const fineTooltip = (segment: Segment, fine: readonly Fine[]): string =>
  paragraphs(
    escapeMarkdown(`Fine metal of ${segment.lot}:`),
    fenced(
      fine.map(
        (one) =>
          `${one.metal.padEnd(6)} ${fineWords(one)}   ${percentOf(one.known)}   ${groundWords(one.known.ground, one.known.by)}`,
      ),
    ),
    fine.some(({ known: { ground } }) => ground === 'guessed')
      ? 'It rests on a guess: an assay would make it sure.'
      : undefined,
  );

const percentOf = ({ share, ground }: Known): string => (share ? shareWords(share, ground) : '');

/** What several determinations come to, and what the record made one expect. */
const assayDraft = ({ workspace, entry }: Subject): readonly Draft[] => {
  if (entry.verb !== 'assay' || !entry.name) return [];
  const { metals } = accountsOf(workspace);
  const segment = metals.lineage.segmentAt(entry.name.name, entry);
  if (!segment) return [];
  const here = assayed(entry).get('Au');
  const own = metals.own(segment);
  const expected = withoutThis(metals, segment, entry);
  const gold = own.get('Au');
  const was = expected.get('Au');
  if (!here || !gold) return [];
  const parts =
    gold.share && here.share
      ? [`Au ${shareWords(gold.share, gold.ground)} ±${shareSpread(gold.share)}`]
      : [`Au ${percent(here.low)} to ${percent(here.high)}`];
  if (was?.share) parts.push(`by ${was.side} ${shareWords(was.share, was.ground)}`);
  if (parts.length === 1 && entry.readings.length < 2 && gold.share) return [];
  const label = parts.join(', ');
  return [
    {
      at: entry.head,
      label: label.length <= LONGEST_LABEL ? label : parts[0]!,
      tooltip: () => assayTooltip(segment, own, expected),
      family: 'fine',
      rank: RANK.weight,
    },
  ];
};

/** What would be known of the metal if it had not been assayed, and by what. */
type Expected = ReadonlyMap<string, Known & { readonly side: string }>;

/** A sample speaks for its lot, and its lot for it: without this assay by the lot's others, else by what went in and came out. */
const withoutThis = (metals: Metals, segment: Segment, entry: Entry): Expected => {
  const { origin } = metals.lineage;
  const lot = (segment.start.entry.verb === 'sample' ? origin(segment).was : undefined) ?? segment;
  const expected = new Map(expectedOf(metals.carried(lot), metals.inferred(lot), lot, origin));
  if (lot === segment) return expected;
  const others = metals.assays(lot).filter((one) => one !== entry);
  for (const [metal, one] of pooled(others)) if (one.share) expected.set(metal, { ...one, side: sideOf(one) });
  return expected;
};

/** `xrf`, where all of it is of one method. */
const sideOf = ({ by }: Known): string => {
  const [method, ...more] = new Set(by.map((one) => one.method?.name));
  return method && more.length === 0 ? method : 'other assays';
};

/** What came in is known by what was said of it, a lot with a new name by what it was. */
const carriedBy = (segment: Segment, metal: string, origin: Metals['lineage']['origin']): string => {
  const { was, passage } = origin(segment);
  if (was) return carriedBy(was, metal, origin);
  if (passage) return 'charge';
  const { others } = segment.start.entry;
  const said = SAID.find((word) =>
    others.some((one) => one.word === word && one.reading?.metals.some(({ symbol }) => symbol.name === metal)),
  );
  return said === 'expect' ? 'expectation' : (said ?? 'material');
};

/** The first holds. */
const SAID = ['stamp', 'claim', 'expect'] as const;

const percent = (share: number): string => `${Math.round(share * 1000) / 10} %`;

/** The surer of what went in and of what came out: neither rests on an assay of its own. */
const expectedOf = (
  carried: Knowledge,
  inferred: Knowledge,
  of: Segment,
  origin: Metals['lineage']['origin'],
): Expected => {
  const expected = new Map([...carried].map(([metal, one]) => [metal, { ...one, side: carriedBy(of, metal, origin) }]));
  for (const [metal, one] of inferred) {
    const other = expected.get(metal);
    const surer = one.share && (!other?.share || other.ground === 'guessed' || spread(one.share) < spread(other.share));
    if (surer) expected.set(metal, { ...one, side: 'products' });
  }
  return expected;
};

const assayTooltip = (segment: Segment, own: Knowledge, expected: Expected): string => {
  const rows = [...own].map(([metal, one]) => {
    const was = expected.get(metal);
    const said = one.share
      ? `${shareWords(one.share, one.ground)} ±${shareSpread(one.share)}`
      : `${percent(one.low)}..${percent(one.high)}`;
    const before = was?.share
      ? `   without it ${shareWords(was.share, was.ground)} ±${shareSpread(was.share)}, ${groundWords(was.ground, was.by)}`
      : '';
    return `${metal.padEnd(6)} ${said}${before}`;
  });
  return paragraphs(escapeMarkdown(`All assays of ${segment.lot} together:`), fenced(rows));
};

/** The gold that a step cannot account for; silver where there is no gold to speak of. */
const balanceDraft = ({ workspace, account, entry }: Subject): readonly Draft[] => {
  const { step } = account;
  if (!step || entry.verb === 'sample' || account.parts[0] !== entry) return [];
  const balances = accountsOf(workspace)
    .balances(step)
    .filter(({ ground, in: went }) => ground !== 'guessed' && went.value > 0.0005);
  const [first] = [...balances].sort((a, b) => rankOf(a) - rankOf(b));
  if (!first) return [];
  // As in the findings: where a weight changed between two entries, accepted or not, nobody knows what became of the metal.
  if (first.verdict !== 'closed' && isInDoubt(account, workspace)) return [];
  const label = balanceLabel(first);
  return [
    {
      at: entry.head,
      label,
      tooltip: () => balanceTooltip(balances),
      family: 'fine',
      rank: first.verdict === 'closed' ? RANK.extra : RANK.doubt,
    },
  ];
};

const balanceLabel = ({ metal, unaccounted, verdict }: MetalBalance): string => {
  const size = showMass(asMeasured({ ...unaccounted, value: Math.abs(unaccounted.value) }));
  if (verdict === 'closed')
    return `${metal} closes within ${showMass(asMeasured({ ...unaccounted, value: 2 * spread(unaccounted) }))}`;
  if (verdict === 'doubtful') return `${size} ${metal} ${unaccounted.value > 0 ? 'short' : 'over'}, may be chance`;
  return `${size} ${metal} ${verdict === 'missing' ? 'missing' : 'too much'}`;
};

/** What does not close comes first, then gold. */
const rankOf = ({ verdict, metal }: MetalBalance): number =>
  (verdict === 'closed' ? 10 : verdict === 'doubtful' ? 5 : 0) + (metal === 'Au' ? 0 : metal === 'Ag' ? 1 : 2);

const balanceTooltip = (balances: readonly MetalBalance[]): string =>
  paragraphs(
    'Fine metal over this step, by what is known from before against what is known from after:',
    fenced(
      balances.map(
        ({ metal, in: went, out, usual, unaccounted }) =>
          `${metal}: in ${grams(went)}, out ${grams(out)}, usual loss and what was not assayed ${grams(usual)}, unaccounted ${grams(unaccounted)}`,
      ),
    ),
  );

const grams = (of: Inexact): string => showQuantity(asMeasured(of), 'g');
