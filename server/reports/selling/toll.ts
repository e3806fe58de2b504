/** Toll work in words: what came in, what went back, what is owed, what the work costs, who keeps what is left. */
import { type Inexact, minus, spread, sum } from '../../engine/accounts/inexact';
import type { TollMetal, TollPiece } from '../../engine/selling/toll';
import { decimal } from '../../quantity/decimal';
import { addMoney, type Money, money, negateMoney, showMoney } from '../../quantity/money';
import { showQuantity } from '../../quantity/show';
import type { Billed } from '../../workspace/selling/bills';
import { type Proceeds, totalsOf } from '../../workspace/selling/proceeds';
import type { Toll } from '../../workspace/selling/tolls';
import { BY_PRODUCTS } from '../by-products';
import { fitting } from '../figures';
import { asMeasured } from '../fine';
import { listWords } from '../words';
import { inColumns, type SumRow } from './sum';
import { chargeWords, percent } from './terms';

const grams = (of: Inexact | undefined, guessed = false): string =>
  of
    ? of.value === 0 && spread(of) === 0
      ? '–'
      : showQuantity(asMeasured({ ...of, value: Number(of.value.toPrecision(12)) }, guessed), 'g')
    : '?';

/** Nothing is said of metal that was sold for them where none was. */
export const tollMetalHeads = ({ metals }: Toll): readonly string[] => [
  'metal',
  'received',
  ...(metals.some(isPooled) ? ['by the pool'] : []),
  'to give back',
  'given back',
  ...(metals.some(isSold) ? ['sold for them'] : []),
  'here',
  'in work, residues',
  'owed',
];

export const isSold = ({ sold }: TollMetal): boolean => sold.value > 0;

/** Where pooling by weight gave them another part of the metal than they brought. */
export const isPooled = ({ pooled }: TollMetal): boolean => Math.abs(pooled.value) >= LEAST_POOLED;
const LEAST_POOLED = 1e-6;

/** One row for each metal. */
export const tollMetalCells = (one: TollMetal, { metals }: Toll): readonly string[] => [
  one.metal,
  grams(one.received, one.guessed),
  ...(metals.some(isPooled) ? [grams(one.pooled, one.guessed)] : []),
  one.bought
    ? 'bought'
    : `${grams(one.due, one.guessed && one.share !== undefined)}${one.share === undefined ? '' : ` (${percent(decimal(one.share))})`}`,
  grams(one.returned),
  ...(metals.some(isSold) ? [grams(one.sold)] : []),
  grams(one.onHand),
  grams(one.residues),
  grams(one.owed, one.guessed && one.share !== undefined),
];

const WHERE: Readonly<Record<TollPiece['where'], string>> = {
  returned: 'given back',
  sold: 'sold',
  'on hand': 'here',
  left: 'left',
  'thrown away': 'thrown away',
  'used in assay': 'used in assay',
};

export const TOLL_PIECE_HEADS = ['lot', 'what', 'weight', 'gold', 'silver', 'where', 'whose'] as const;

/** One row for each thing that came of it. */
export const tollPieceCells = (piece: TollPiece): readonly string[] => [
  piece.isPart ? `part of ${piece.lot}` : piece.lot,
  piece.kind ?? '',
  grams(piece.grams),
  piece.fine.has('Au') ? grams(piece.fine.get('Au')) : '–',
  piece.fine.has('Ag') ? grams(piece.fine.get('Ag')) : '–',
  `${WHERE[piece.where]}${piece.to && (piece.where === 'left' || piece.where === 'sold') ? ` to ${piece.to}` : ''}${piece.date ? `, ${piece.date}` : ''}`,
  piece.owner ?? 'the shop',
];

/** `given back, Au 1.20 g still owed` · `given back, nothing owed` */
export const tollLabel = ({ metals }: Toll): string => {
  const open = metals.filter(isOpen);
  const [gold] = open;
  if (!gold) return fitting('given back, nothing owed');
  const size = grams({ ...gold.owed, value: Math.abs(gold.owed.value) });
  return fitting(`given back, ${gold.metal} ${size} ${gold.owed.value > 0 ? 'still owed' : 'too much'}`);
};

/** A pool that was divided otherwise than it is shared is told where it was divided. */
const asDivided = (one: TollMetal): TollMetal => ({ ...one, owed: minus(one.owed, one.divided) });

/** What was given back beyond what is due, while nothing else is owed; none where it rests on a guess, or nothing was agreed. */
export const givenTooMuch = (toll: Toll): readonly string[] => {
  const open = toll.metals.map(asDivided).filter(isOpen);
  if (open.some(({ owed, guessed }) => owed.value > 0 || guessed)) return [];
  return open.flatMap(({ metal, owed, share }) =>
    share === undefined
      ? []
      : [`${grams({ ...owed, value: -owed.value })} of ${metal} beyond the agreed ${percent(decimal(share))}`],
  );
};

/**
 * What is owed beyond all that is here and could still go back; none where it rests on a guess, where nothing was agreed, or where what is here is
 * not known.
 */
export const givenTooLittle = ({ metals, pieces }: Toll): readonly string[] =>
  metals.map(asDivided).flatMap((one) => {
    if (!isOpen(one) || one.share === undefined || one.guessed) return [];
    const here = pieces
      .filter(({ where, kind }) => where === 'on hand' && !BY_PRODUCTS.has(kind ?? ''))
      .map(({ fine }) => fine.get(one.metal));
    if (here.some((fine) => !fine)) return [];
    const missing = minus(one.owed, sum(here.flatMap((fine) => fine ?? [])));
    return isOpen({ owed: missing }) && missing.value > 0 ? [`${grams(missing)} of ${one.metal}`] : [];
  });

/** More or less than is due, beyond what weighing and assay explain. */
const isOpen = ({ owed }: Pick<TollMetal, 'owed'>): boolean =>
  Math.abs(owed.value) > 2 * spread(owed) && Math.abs(owed.value) >= 0.005;

export const tollSays = (toll: Toll): readonly string[] => {
  const { customer, lots, receivedOn, receivedGrams, metals, fee, residues, joined, untold, uncounted, pieces } = toll;
  const names = listWords(lots.map(({ lot }) => lot));
  const weight = receivedGrams ? showQuantity(receivedGrams, 'g') : 'not weighed';
  const open = metals.filter(isOpen);
  const kept = pieces.filter(({ residue }) => residue);
  return [
    `${customer}: ${names} received ${receivedOn ?? ''}, ${weight}.`,
    ...open.map(({ metal, owed }) =>
      owed.value > 0
        ? `${grams(owed)} of ${metal} is still to be given back.`
        : `${grams({ ...owed, value: -owed.value })} more of ${metal} was given back than is due.`,
    ),
    ...metals
      .filter(({ bought }) => bought)
      .map(({ metal }) => `${metal} was bought from ${customer} by a price on their bill: it does not go back.`),
    ...untold.map(({ lot }) => `How much of ${lot} is theirs is not known: it is left out.`),
    ...(open.length === 0 && untold.length === 0 ? ['No metal is owed beyond what weighing and assay explain.'] : []),
    ...(toll.unworked
      ? ['It went back as it came: nothing of the terms is due for it.']
      : [fee ? `The work comes to ${showMoney(fee)} by the terms on file.` : 'No charge for the work is on file.']),
    ...(uncounted.length > 0 ? [`Not counted, for want of a price or a rate: ${listWords(uncounted)}.`] : []),
    ...(kept.length > 0
      ? [
          residues
            ? `Residues stay with ${residues === 'shop' ? 'the shop' : customer}, as agreed.`
            : 'Nothing was agreed on residues: they stay whose they are written to be.',
        ]
      : []),
    ...(joined ? ['Metal of others was joined with theirs: of what came of it their part is counted.'] : []),
  ];
};

/** What was sold of theirs, for how much, and what is left of that for them: less the work, as far as no bill that was paid has settled either. */
export const proceedsSays = (
  { customer, fee }: Toll,
  proceeds: readonly Proceeds[],
  bills: readonly Billed[],
): readonly string[] => {
  const totals = totalsOf(proceeds);
  const [total, ...others] = totals;
  if (!total) return [];
  const lines = proceeds.map(({ dealt: { name, party, paidOn }, lots, money: got, isPart }) => {
    const by = lots.includes(name) ? '' : isPart ? `, their part of ${name}` : `, ${name}`;
    const when = paidOn ? `paid ${paidOn}` : 'no payment written';
    const many = lots.length === 1 ? 'was' : 'were';
    return `${listWords(lots)} ${many} sold${party ? ` to ${party}` : ''} for them${by}: ${showMoney(got)}, ${when}.`;
  });
  const theirs = `That money is ${customer}'s: ${listWords(totals.map(showMoney))}`;
  if (others.length > 0) return [...lines, `${theirs}.`];
  const paid = bills.filter((bill) => bill.paidOn !== undefined && bill.currency === total.currency);
  const sumOf = (all: readonly Money[]): Money => addMoney(money(0, total.currency), ...all);
  const credited = sumOf(paid.flatMap(({ payout }) => payout.credits));
  const worked = sumOf(paid.flatMap(({ payout }) => payout.charges.map(({ cost }) => cost)));
  const open = fee && fee.currency === total.currency ? addMoney(fee, negateMoney(worked)) : undefined;
  const work = open?.amount.greaterThan(0) ? open : undefined;
  const isPart = work !== undefined && worked.amount.greaterThan(0);
  const left = addMoney(total, negateMoney(credited), ...(work ? [negateMoney(work)] : []));
  const says = [
    ...(credited.amount.greaterThan(0) ? [`their paid bill credits ${showMoney(credited)} of it`] : []),
    ...(work ? [`less ${isPart ? 'what is not paid of the work' : 'the work'}, ${showMoney(left)}`] : []),
    ...(!work && credited.amount.greaterThan(0)
      ? [left.amount.isZero() ? 'nothing is left' : `${showMoney(left)} is left`]
      : []),
    ...(open && !work && credited.amount.isZero() && worked.amount.greaterThan(0) ? ['the work is paid already'] : []),
  ];
  return [...lines, `${[theirs, ...says].join('; ')}.`];
};

/** The charges, one to a row, and their sum. */
export const tollFeeRows = ({ charges, fee }: Toll): readonly SumRow[] =>
  fee && charges.length > 0
    ? [
        ...charges.map(({ word, term, cost }) => ({
          left: `charge ${word} ${chargeWords(term)}`,
          right: showMoney(cost),
        })),
        { left: 'to pay', right: showMoney(fee) },
      ]
    : [];

export const tollSum = (toll: Toll): readonly string[] => inColumns(tollFeeRows(toll));
