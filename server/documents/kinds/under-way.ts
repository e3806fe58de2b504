/** What is out at the end of a day, and what would be lost with it: each shipment that nobody has settled, and all of them together. */
import { certain, minus, sum as sumOf } from '../../engine/accounts/inexact';
import type { Entry, Money } from '../../engine/entry';
import { termsOn } from '../../engine/selling/deal';
import { listWords } from '../../reports/words';
import { dayNumber } from '../../text/calendar';
import { accountsOf } from '../../workspace/accounts';
import { headOf, openLots } from '../../workspace/selling/consigned';
import { type Sale, salesOf } from '../../workspace/selling/sales';
import { isOf } from '../../workspace/selling/shipments';
import type { Workspace } from '../../workspace/workspace';
import { count, grams, moneySum, reckonedMoney, typedMoney } from '../cells';
import type { Choice } from '../choice';
import { type Going, goingIn } from '../going';
import {
  type Cell,
  type Column,
  NOTHING,
  type Row,
  type Sentence,
  says,
  section,
  sentences,
  table,
  words,
} from '../model';
import { fact, notesOf } from '../parts';
import { type Worth, worthOf } from '../worth';
import type { Kind } from './kind';

export const underWay: Kind = {
  code: 'under-way',
  title: 'Under way',
  means:
    'what is out at the end of a day and not settled: since when, to whom, its metal, its worth and what insurance leaves open, and all of it together',
  restsOn: 'period',
  takes: ['to', 'party'],
  make: (workspace, choice) => {
    const day = choice.to ?? accountsOf(workspace).lastDate;
    const all = outOn(workspace, choice, day);
    const lots = all.reduce((so, { going }) => so + going.length, 0);
    const written = all.flatMap(({ parts }) => parts.filter(({ date }) => (date ?? '') <= day));
    return {
      title: `Under way: end of ${day === '' ? 'the record' : day}`,
      until: choice.to,
      facts: [...fact('to', choice.party), ...fact('shipments', count(all.length)), ...fact('lots', count(lots))],
      sections: [
        ...section(
          'Shipped and not settled',
          all.length === 0
            ? sentences([says('Nothing that was shipped waits for its settlement.')])
            : table(COLUMNS, [...all.map((one) => rowOf(one, day)), ...together(all)]),
          sentences(all.length === 0 ? [] : notes(all)),
        ),
        ...notesOf(written),
      ],
    };
  },
};

const notes = (all: readonly Out[]): readonly Sentence[] => {
  const unknown = all.filter(({ worth }) => !worth);
  return [
    says('Worth is in full, by the last price that is written before that day.'),
    ...unknown.map(({ head }) => says(`What ${head.name?.name ?? 'it'} is worth is not known.`, head.head)),
    says('What goes back to whose it is is not listed: no entry tells when it arrives.'),
  ];
};

interface Out {
  readonly head: Entry;
  readonly parts: readonly Entry[];
  /** In which the party agreed to settle. */
  readonly agreedDays: number | undefined;
  readonly party: string | undefined;
  readonly going: readonly Going[];
  readonly worth: Worth | undefined;
  readonly insured: Money | undefined;
  /** What the insurance would not pay, where both are in one currency. */
  readonly open: Worth | undefined;
}

/** As they left: the longest out first. */
const outOn = (workspace: Workspace, { party: asked }: Choice, day: string): readonly Out[] => {
  const sales = salesOf(workspace);
  return sales.ships.flatMap((sale: Sale): readonly Out[] => {
    const head = headOf(sale);
    const party = head.party?.name;
    const left = head.date ?? '';
    const role = party === undefined ? undefined : workspace.workshop.parties.get(party)?.role;
    if (left > day || role === 'customer' || (asked !== undefined && party !== asked)) return [];
    const waiting = new Set(openLots(sales, sale, day));
    // What is theirs went home, as silver that was lent: nobody settles it.
    const going = goingIn(workspace, sale.parts).filter(
      ({ flow: { lot }, segment }) =>
        waiting.has(lot!.name) && !(segment && isOf(workspace, { lot: lot!.name, segment, grams: undefined }, party)),
    );
    if (going.length === 0) return [];
    const worth = worthOf(
      workspace,
      day,
      going.flatMap(({ fine }) => fine),
    );
    const insured = sale.parts.findLast(({ said }) => said.insured)?.said.insured;
    const { days } = termsOn(party === undefined ? undefined : workspace.workshop.parties.get(party), left) ?? {};
    return [
      { head, parts: sale.parts, agreedDays: days, party, going, worth, insured, open: leftOpen(worth, insured) },
    ];
  });
};

const leftOpen = (worth: Worth | undefined, insured: Out['insured']): Worth | undefined => {
  if (!worth || (insured && insured.currency !== worth.currency)) return undefined;
  const open = minus(worth.money, certain(insured?.digits.value.toNumber() ?? 0));
  return open.value > 0 ? { money: open, currency: worth.currency } : undefined;
};

const COLUMNS: readonly Column[] = [
  { head: 'shipment' },
  { head: 'to' },
  { head: 'since' },
  { head: 'days', right: true },
  { head: 'lots' },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
  { head: 'worth in full', right: true },
  { head: 'insured for', right: true },
  { head: 'not covered', right: true },
];

const rowOf = ({ head, agreedDays, party, going, worth, insured, open }: Out, day: string): Row => ({
  cells: [
    words(head.name?.name),
    words(party),
    words(head.date),
    head.date ? daysCell(dayNumber(day) - dayNumber(head.date), agreedDays) : NOTHING,
    words(listWords(going.map(({ flow }) => flow.lot!.name))),
    ...['Au', 'Ag'].map((metal) => metalIn(going, metal)),
    money(worth),
    insured ? typedMoney(insured) : NOTHING,
    money(open),
  ],
  place: head.head,
});

/** `41, 11 late` */
const daysCell = (days: number, agreed: number | undefined): Cell => {
  const late = agreed === undefined ? 0 : days - agreed;
  return late > 0 ? { ...count(days), text: `${days}, ${late} late` } : count(days);
};

const money = (of: Worth | undefined): Cell => (of ? reckonedMoney(of.money, of.currency) : NOTHING);

const metalIn = (going: readonly Going[], metal: string): Cell => {
  const all = going.flatMap(({ fine }) => fine.find((one) => one.metal === metal)?.grams ?? []);
  return all.length > 0 ? grams(sumOf(all)) : NOTHING;
};

/** One line for each currency, the metal in the first. */
const together = (all: readonly Out[]): readonly Row[] => {
  if (all.length < 2) return [];
  const currencies = new Set(
    all.flatMap(({ worth, insured }) => [worth?.currency, insured?.currency].filter((one) => one !== undefined)),
  );
  const going = all.flatMap((one) => one.going);
  const row = (currency: string | undefined, isFirst: boolean): Row => {
    const sumIn = (of: (one: Out) => Worth | undefined): Cell => {
      const found = all.flatMap((one) => of(one) ?? []).filter((one) => one.currency === currency);
      return found.length > 0 ? reckonedMoney(sumOf(found.map((one) => one.money)), currency) : NOTHING;
    };
    const insured = all.flatMap((one) => one.insured ?? []).filter((one) => one.currency === currency);
    return {
      cells: [
        words('together'),
        NOTHING,
        NOTHING,
        NOTHING,
        isFirst ? count(going.length) : NOTHING,
        ...['Au', 'Ag'].map((metal) => (isFirst ? metalIn(going, metal) : NOTHING)),
        sumIn(({ worth }) => worth),
        moneySum(insured)[0] ?? NOTHING,
        sumIn(({ open }) => open),
      ],
      total: true,
    };
  };
  return currencies.size === 0
    ? [row(undefined, true)]
    : [...currencies].map((currency, at) => row(currency, at === 0));
};
