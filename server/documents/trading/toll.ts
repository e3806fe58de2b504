/** Work on customers' metal: what it took, what was agreed for it, and what would cover it. */
import { type Inexact, minus, scaled, sum } from '../../engine/accounts/inexact';
import type { Step } from '../../engine/book';
import { perGram } from '../../engine/selling/stated';
import { decimal } from '../../quantity/decimal';
import { type Money, roundMoney } from '../../quantity/money';
import { accountsOf } from '../../workspace/accounts';
import { marketOn } from '../../workspace/selling/money';
import { salesOf } from '../../workspace/selling/sales';
import { type Toll, tollsOf } from '../../workspace/selling/tolls';
import { type Upkeep, upkeepOf } from '../../workspace/selling/upkeep';
import type { Workspace } from '../../workspace/workspace';
import { mass, moneyCell, plainFigure, reckonedMoney, restingOn } from '../cells';
import { type Choice, isWithin } from '../choice';
import { entriesWithin } from '../entries';
import { groupedBy } from '../grouped';
import { type Column, NOTHING, type Row, type Section, says, section, sentences, table, words } from '../model';
import { fewWords } from './few';
import { hoursSays, unpricedSays } from './upkeep';

const COLUMNS: readonly Column[] = [
  { head: 'lot' },
  { head: 'of' },
  { head: 'what' },
  { head: 'weight', right: true },
  { head: 'hours', right: true },
  { head: 'labour', right: true },
  { head: 'materials', right: true },
  { head: 'metal left to us', right: true },
  { head: 'would cover it', right: true },
  { head: 'for each gram', right: true },
  { head: 'agreed', right: true },
  { head: 'left over', right: true },
];

interface Work {
  readonly toll: Toll;
  readonly what: string | undefined;
  readonly upkeep: Upkeep;
  /** Fine metal beyond what has to go back, in money; below nought we add of our own. None where a metal has no price. */
  readonly over: Inexact | undefined;
  /** Labour and materials, less the metal that is left to us. */
  readonly covers: Inexact | undefined;
}

/** Lots of customers that came in in the period, with all that was done with them until now. */
export const tollSection = (workspace: Workspace, choice: Choice, until: string): readonly Section[] => {
  const customers = new Set(
    entriesWithin(workspace, choice).flatMap(({ verb, party }) => (verb === 'receive' ? (party?.name ?? []) : [])),
  );
  const works = [...customers]
    .flatMap((customer) => tollsOf(workspace, customer))
    .filter(({ lots }) => lots.some(({ segment }) => isWithin(choice, segment.start.entry.date)))
    .map((toll) => workOf(workspace, toll, until));
  if (works.length === 0) return [];
  const kinds = groupedBy(works, ({ what }) => what ?? 'no kind that is written');
  const upkeeps = works.map(({ upkeep }) => upkeep);
  const noWage = works.some(({ upkeep }) => !upkeep.labour);
  return section(
    "Work on customers' metal",
    table(COLUMNS, works.map(rowOf)),
    sentences([
      says(
        'Would cover it: labour and materials, less the metal that is left to us beyond what has to go back. Rent, gas and current are not in it, nor what a laboratory asked.',
      ),
      ...(noWage ? [says('Work is not counted: `labour` under `shop` in workshop.yaml gives its price.')] : []),
      ...hoursSays(upkeeps),
      ...unpricedSays(upkeeps),
      ...works.flatMap(({ toll: { name, joined, terms, lots } }) => [
        ...(joined ? [says(`${name}: metal of others was joined with it; the work is counted in full.`)] : []),
        ...(terms
          ? []
          : [
              says(
                `${name}: nothing was agreed; \`terms\` of the party in workshop.yaml give the fee.`,
                lots[0]?.segment.start.place,
              ),
            ]),
      ]),
      ...[...kinds].flatMap(([kind, own]) => kindSays(kind, own)),
    ]),
  );
};

const workOf = (workspace: Workspace, toll: Toll, until: string): Work => {
  const upkeep = upkeepOf(workspace, stepsOf(workspace, toll), until);
  const over = overOf(workspace, toll, upkeep.currency, until);
  const cost = upkeep.total?.amount.toNumber();
  const covers = cost === undefined || !over ? undefined : { ...scaled(over, -1), value: cost - over.value };
  const { make } = toll.lots[0]!.segment.story;
  return { toll, what: make?.material ?? make?.kind, upkeep, over, covers };
};

/** Everything that was done with it and with what came of it while it was theirs, each step once. */
const stepsOf = (workspace: Workspace, { came }: Toll): readonly Step[] => {
  const accounts = accountsOf(workspace);
  const all = came.flatMap((segment) => accounts.metals.lineage.uses(segment).map(({ passage }) => passage.step));
  return [...new Map(all.map((step) => [step.entry.anchor, step])).values()];
};

const overOf = (
  workspace: Workspace,
  { metals }: Toll,
  currency: string | undefined,
  until: string,
): Inexact | undefined => {
  if (currency === undefined) return undefined;
  const market = marketOn(salesOf(workspace), until, currency);
  const values = metals.map(({ metal, onHand, owed }) => {
    const over = minus(onHand, owed);
    const price = market.priceFor(metal);
    return over.value === 0 ? over : price && scaled(over, perGram(price).toNumber());
  });
  const known = values.flatMap((value) => value ?? []);
  return known.length === values.length ? sum(known) : undefined;
};

const materialsOf = ({ materials, currency }: Upkeep): Money | undefined => {
  const known = materials.flatMap(({ cost }) => cost?.amount ?? []);
  return known.length > 0 && currency !== undefined
    ? { amount: known.reduce((a, b) => a.plus(b)), currency }
    : undefined;
};

const rowOf = ({ toll, what, upkeep, over, covers }: Work): Row => {
  const { currency, hours, labour } = upkeep;
  const { receivedGrams, fee, lots } = toll;
  const gram =
    covers && currency !== undefined && receivedGrams?.value.greaterThan(0)
      ? roundMoney({ amount: decimal(covers.value).div(receivedGrams.value), currency })
      : undefined;
  const left =
    covers && fee && fee.currency === currency ? { ...covers, value: fee.amount.toNumber() - covers.value } : undefined;
  return {
    cells: [
      words(toll.name),
      words(toll.customer),
      words(what),
      receivedGrams ? mass(receivedGrams) : NOTHING,
      hours > 0 ? plainFigure(hours, 'h', 2) : NOTHING,
      moneyCell(labour),
      moneyCell(materialsOf(upkeep)),
      toll.terms ? reckonedMoney(over, currency) : NOTHING,
      reckonedMoney(covers, currency),
      gram
        ? restingOn(
            { text: `${moneyCell(gram).text}/g`, figure: { value: gram.amount.toFixed(), unit: `${currency}/g` } },
            covers,
          )
        : NOTHING,
      moneyCell(fee),
      reckonedMoney(left, currency),
    ],
    place: lots[0]?.segment.start.place,
  };
};

/** Of one kind of lot: what would have covered them, from the least to the most. */
const kindSays = (kind: string, works: readonly Work[]) => {
  const grams = works.flatMap(({ covers, toll, upkeep }) =>
    covers && toll.receivedGrams?.value.greaterThan(0) && upkeep.currency !== undefined
      ? [{ amount: covers.value / toll.receivedGrams.value.toNumber(), currency: upkeep.currency }]
      : [],
  );
  const [least, most] = [
    Math.min(...grams.map(({ amount }) => amount)),
    Math.max(...grams.map(({ amount }) => amount)),
  ];
  const of = (amount: number): string => moneyCell({ amount: decimal(amount), currency: grams[0]!.currency }).text;
  return [
    ...(grams.length > 1
      ? [says(`Lots of ${kind}: between ${of(least)} and ${of(most)} a gram would have covered them.`)]
      : []),
    ...fewWords(works.length, `lot of ${kind}`, `lots of ${kind}`),
  ];
};
