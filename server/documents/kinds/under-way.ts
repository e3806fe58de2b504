/** What is out at the end of a day, and what would be lost with it: each shipment that nobody has settled, and all of them together. */
import { sum as sumOf } from '../../engine/accounts/inexact';
import { listWords } from '../../reports/words';
import { dayNumber } from '../../text/calendar';
import { accountsOf } from '../../workspace/accounts';
import { count, grams, moneySum, reckonedMoney, typedMoney } from '../cells';
import type { Going } from '../going';
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
import { type Out, outOn } from '../out';
import { fact, notesOf } from '../parts';
import { STILL_OWNED } from '../still-out';
import type { Worth } from '../worth';
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
    says(STILL_OWNED),
    says('Worth is in full, by the last price that is written before that day.'),
    ...unknown.map(({ head }) => says(`What ${head.name?.name ?? 'it'} is worth is not known.`, head.head)),
    says('What goes back to whose it is is not listed: no entry tells when it arrives.'),
  ];
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
