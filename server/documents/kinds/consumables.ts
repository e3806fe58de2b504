import { addedParts } from '../../engine/charge';
import { balanceRow } from '../../engine/usual';
import { decimal } from '../../quantity/decimal';
import { add, exact, type Measured, subtract } from '../../quantity/measured';
import { listWords, stepWords } from '../../reports/words';
import { dayNumber } from '../../text/calendar';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { acidSection } from '../acid';
import { count, mass, plainFigure } from '../cells';
import { type Choice, isWithin, periodWords } from '../choice';
import { entriesWithin, stepsWithin } from '../entries';
import { NOTHING, type Row, type Section, says, section, sentences, table, words } from '../model';
import { saidWords } from '../parts';
import { crucibleSection, cupelSection, furnaceSection, scaleSection } from '../wear';
import type { Kind } from './kind';

export const consumables: Kind = {
  code: 'consumables',
  title: 'Consumables and wear',
  means:
    'materials used and what is left of what was bought, cupels with what they drank, heats of crucibles and furnaces, checks of scales',
  takes: ['from', 'to'],
  make: (workspace, choice) => ({
    title: `Consumables and wear: ${periodWords(choice)}`,
    until: choice.to,
    facts: [],
    sections: [
      ...materialsSection(workspace, choice),
      ...shelfSection(workspace, choice),
      ...acidSection(workspace, choice),
      ...cupelSection(workspace, choice),
      ...crucibleSection(workspace, choice),
      ...furnaceSection(workspace, choice),
      ...scaleSection(workspace, choice),
      ...thrownSection(workspace, choice),
    ],
  }),
};

interface Used {
  readonly name: string;
  grams: Measured;
  times: number;
  readonly steps: string[];
}

/** Recipes taken apart; a material in volume is left to the entries. */
const usedIn = (workspace: Workspace, choice: Choice): ReadonlyMap<string, Used> => {
  const used = new Map<string, Used>();
  for (const { entry, added } of stepsWithin(workspace, choice)) {
    for (const of of added) {
      for (const { item } of addedParts([of], workspace.workshop)) {
        const so = used.get(item.material.name) ?? {
          name: item.material.name,
          grams: exact(decimal(0)),
          times: 0,
          steps: [],
        };
        const u = item.u ?? 0;
        const own: Measured = {
          value: decimal(item.massGrams),
          errors: u > 0 ? [{ source: { label: item.material.name }, size: u }] : [],
          guessed: of.mass?.guessed ?? false,
        };
        so.grams = add(so.grams, own);
        so.times++;
        so.steps.push(stepWords(entry));
        used.set(so.name, so);
      }
    }
  }
  return used;
};

const materialsSection = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const steps = stepsWithin(workspace, choice);
  const feed = steps
    .filter(({ entry }) => balanceRow(entry.verb)?.kind === 'melt')
    .flatMap(({ inputs }) => inputs.flatMap(({ mass: of }) => of ?? []));
  const kilograms = feed.length > 0 ? add(...feed).value.toNumber() / 1000 : 0;
  const rows = [...usedIn(workspace, choice).values()].map(
    ({ name, grams: of, times, steps: where }): Row => ({
      cells: [
        words(name),
        mass(of),
        count(times),
        kilograms > 0 ? plainFigure(of.value.toNumber() / kilograms, 'g/kg') : NOTHING,
        words(listWords([...new Set(where)], 3)),
      ],
    }),
  );
  const liquids = steps.flatMap(({ entry, added }) =>
    added.flatMap(({ flow, volume }): readonly Row[] =>
      volume
        ? [
            {
              cells: [
                words(flow.material?.name ?? flow.word),
                mass(volume, 'mL'),
                count(1),
                NOTHING,
                words(stepWords(entry)),
              ],
              place: flow.place,
            },
          ]
        : [],
    ),
  );
  const columns = ['material', 'used', 'times', 'for each kg melted', 'in'];
  return section(
    'Materials used',
    table(
      columns.map((head, at) => ({ head, right: at > 0 && at < 4 })),
      [...rows, ...liquids],
    ),
  );
};

const DAYS_A_WEEK = 7;

/** Of what was bought of a material, what the record has used since; and for how long the rest lasts at that pace. */
const shelfSection = (workspace: Workspace, { to }: Choice): readonly Section[] => {
  const until = to ?? accountsOf(workspace).lastDate;
  const used = usedSince(workspace, until);
  const rows = [...boughtUntil(workspace, until)].flatMap(([name, { grams: came, since }]): readonly Row[] => {
    const gone = used(name, since);
    if (!gone) return [];
    const left = subtract(came, gone);
    const weeks = Math.max(1, dayNumber(until) - dayNumber(since)) / DAYS_A_WEEK;
    const lasts =
      gone.value.greaterThan(0) && left.value.greaterThan(0)
        ? left.value.toNumber() / (gone.value.toNumber() / weeks)
        : undefined;
    return [
      {
        cells: [
          words(name),
          words(since),
          mass(came),
          mass(gone),
          mass(left),
          lasts === undefined ? NOTHING : plainFigure(lasts, 'weeks', 2),
        ],
      },
    ];
  });
  const columns = ['material', 'bought since', 'bought', 'used since', 'should be left', 'lasts, at that pace'];
  return section(
    'What runs out',
    table(
      columns.map((head, at) => ({ head, right: at > 1 })),
      rows,
    ) ??
      sentences([
        says(
          'No material from the shelf was written as bought (`receive NAME 5 kg`, `material borax-glass`), so what runs out is not known.',
        ),
      ]),
  );
};

const usedSince =
  (workspace: Workspace, to: string) =>
  (name: string, from: string): Measured | undefined =>
    usedIn(workspace, { from, to }).get(name)?.grams;

const boughtUntil = (workspace: Workspace, to: string) => {
  const bought = new Map<string, { grams: Measured; since: string }>();
  for (const { verb, others, name, date } of entriesWithin(workspace, { to })) {
    const material = verb === 'receive' ? others.find(({ word }) => word === 'material')?.names[0]?.name : undefined;
    const weighed = name && workspace.book.lot(name.name)?.births[0]?.weight.mass;
    if (!material || !weighed || date === undefined) continue;
    const so = bought.get(material);
    bought.set(material, { grams: so ? add(so.grams, weighed) : weighed, since: so?.since ?? date });
  }
  return bought;
};

/** Lots that were thrown away: what a record of waste begins with. */
const thrownSection = (workspace: Workspace, choice: Choice): readonly Section[] => {
  const rows = [...workspace.book.lotNames()].flatMap((name) =>
    workspace.book.lot(name)!.events.flatMap((event): readonly { readonly date: string; readonly row: Row }[] => {
      const { kind, entry, flow, weight: own, before, volumeBefore, place } = event;
      if (kind !== 'discarded' || !isWithin(choice, entry.date)) return [];
      const size = own.mass
        ? mass(own.mass)
        : before
          ? mass(before)
          : volumeBefore
            ? mass(volumeBefore, 'mL')
            : words('?');
      const make = workspace.book.lot(name)!.make;
      const cells = [
        words(name),
        words(make?.kind ?? make?.material),
        words(entry.date),
        size,
        words(saidWords(flow?.said ?? entry.said)),
      ];
      return [{ date: entry.date ?? '', row: { cells, place } }];
    }),
  );
  rows.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
  const columns = ['lot', 'what', 'day', 'amount', 'said'];
  return section(
    'Thrown away',
    table(
      columns.map((head, at) => ({ head, right: at === 3 })),
      rows.map(({ row }) => row),
    ),
  );
};
