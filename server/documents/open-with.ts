/** What is open with others at the end of a period, whenever it began: it stays here month by month until it is put right, paid, weighed in or accepted. */
import { type Money, negateMoney } from '../quantity/money';
import { lineTitle } from '../reports/selling/lines';
import { metalDueBack } from '../reports/selling/settled';
import { listWords } from '../reports/words';
import { dayNumber } from '../text/calendar';
import type { Place } from '../text/place';
import { accountsOf } from '../workspace/accounts';
import { billOf } from '../workspace/selling/bills';
import { headOf } from '../workspace/selling/consigned';
import { isAccepted, openLines, openOwed } from '../workspace/selling/differences';
import { type Sale, salesOf } from '../workspace/selling/sales';
import { settledUntil } from '../workspace/selling/settlements';
import type { Workspace } from '../workspace/workspace';
import { count, moneyCell } from './cells';
import { type Column, NOTHING, type Row, type Section, says, section, sentences, table, words } from './model';
import { NEVER } from './out';

interface OpenWith {
  readonly name: string;
  readonly party: string | undefined;
  readonly since: string;
  readonly what: string;
  /** Above nought it is to come to us. */
  readonly money: Money | undefined;
  /** It is metal that is open. */
  readonly isMetal: boolean;
  readonly place: Place;
}

const COLUMNS: readonly Column[] = [
  { head: 'of' },
  { head: 'with' },
  { head: 'since' },
  { head: 'days', right: true },
  { head: 'what is open' },
  { head: 'to us', right: true },
  { head: 'from us', right: true },
];

/** At the end of a day, or of the record with all that it says of later days. `ofMetal` asks for what is open in metal alone. */
export const openWithSection = (workspace: Workspace, to: string | undefined, ofMetal = false): readonly Section[] => {
  const until = to ?? accountsOf(workspace).lastDate;
  const all = openWith(workspace, to).filter(({ isMetal }) => isMetal || !ofMetal);
  if (all.length === 0) return [];
  return section(
    'Open with others',
    table(
      COLUMNS,
      [...all].sort((a, b) => (a.since < b.since ? -1 : a.since > b.since ? 1 : 0)).map((one) => rowOf(one, until)),
    ),
    sentences([
      says('Each stands here month by month until it is put right, paid, weighed in, or accepted with a reason.'),
    ]),
  );
};

const rowOf = ({ name, party, since, what, money, place }: OpenWith, until: string): Row => ({
  cells: [
    words(name),
    words(party),
    words(since),
    count(dayNumber(until) - dayNumber(since)),
    words(what),
    money && !money.amount.isNegative() ? moneyCell(money) : NOTHING,
    money?.amount.isNegative() ? moneyCell(negateMoney(money)) : NOTHING,
  ],
  place,
});

const openWith = (workspace: Workspace, to = NEVER): readonly OpenWith[] =>
  salesOf(workspace).settles.flatMap((sale) =>
    (headOf(sale).date ?? '') > to ? [] : [...ofBuyer(workspace, sale, to), ...ofCustomer(workspace, sale, to)],
  );

const isPaid = (paidOn: string | undefined, until: string): boolean => paidOn !== undefined && paidOn <= until;

const ofBuyer = (workspace: Workspace, sale: Sale, until: string): readonly OpenWith[] => {
  const settlement = settledUntil(workspace, sale, until);
  if (!settlement) return [];
  const { name, party, settledOn: since, checked, back, paidOn, words: said } = settlement;
  const base = { name, party, since, place: headOf(sale).head };
  const lines = openLines(workspace, settlement);
  const due = metalDueBack(back);
  const awaited = !isPaid(paidOn, until) && (back.length === 0 || said.total) && !checked.stated.amount.isZero();
  return [
    ...(lines.length > 0
      ? [
          {
            ...base,
            what: `differs: ${listWords(lines.map(lineTitle))}`,
            money: openOwed(workspace, settlement),
            isMetal: false,
          },
        ]
      : []),
    ...(awaited ? [{ ...base, what: 'not paid', money: checked.stated, isMetal: false }] : []),
    ...(due.length > 0
      ? [{ ...base, what: `${listWords(due)} is to come back`, money: undefined, isMetal: true }]
      : []),
  ];
};

const ofCustomer = (workspace: Workspace, { entry }: Sale, until: string): readonly OpenWith[] => {
  const bill = billOf(workspace, entry);
  if (!bill) return [];
  const { name, date: since, toll, total, payer, owed, owedMetal, paidOn } = bill;
  const base = { name, party: toll.customer, since, place: entry.head };
  const lines = bill.lines.filter(
    ({ verdict, place }) => verdict === 'differs' && !isAccepted(workspace, 'bill-differs', place ?? entry.head),
  );
  const metal = [...owedMetal].map(
    ([symbol, grams]) => `${grams.abs().toFixed(3)} g of ${symbol} ${grams.isNegative() ? 'too much' : 'too little'}`,
  );
  const what = `bill differs: ${listWords([...lines.map(lineTitle), ...metal])}`;
  return [
    ...(lines.length > 0
      ? [{ ...base, what, money: owed.amount.isZero() ? undefined : negateMoney(owed), isMetal: owedMetal.size > 0 }]
      : []),
    ...(isPaid(paidOn, until) || total.amount.isZero()
      ? []
      : [{ ...base, what: 'bill not paid', money: payer === 'shop' ? negateMoney(total) : total, isMetal: false }]),
  ];
};
