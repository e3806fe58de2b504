/** One step on one sheet: what went in, what was done, what came out, and what that leaves. */
import { jobOf } from '../../advice/job';
import { adviceOn } from '../../advice/topics';
import { spread } from '../../engine/accounts/inexact';
import type { Step } from '../../engine/book';
import type { Entry, Gear } from '../../engine/entry';
import { expandRecipe } from '../../engine/shelf';
import { exact } from '../../quantity/measured';
import { balanceRows } from '../../reports/balance';
import { chargeOf, verdictWords } from '../../reports/wording';
import { listWords, stepWords } from '../../reports/words';
import { verb } from '../../vocabulary/verbs';
import { accountsOf } from '../../workspace/accounts';
import type { Workspace } from '../../workspace/workspace';
import { grams, mass } from '../cells';
import { chosenEntry } from '../chosen';
import { heatDrawn } from '../drawn';
import { feedNames, ownersIn, usesOf } from '../gear';
import {
  type Block,
  type Fact,
  NOTHING,
  type Row,
  type Section,
  says,
  section,
  sentences,
  table,
  words,
} from '../model';
import {
  cautionsSection,
  FLOW_COLUMNS,
  fact,
  findingsSection,
  flowRow,
  notesOf,
  proofFacts,
  unfinishedSection,
} from '../parts';
import type { Kind } from './kind';

export const meltSheet: Kind = {
  code: 'melt-sheet',
  title: 'Melt sheet',
  means: 'one heat or other step: charge, times, products, balance of mass and of metals',
  needs: 'entry',
  takes: ['entry'],
  make: (workspace, choice) => {
    const entry = chosenEntry(workspace, choice, 'melt sheet', ({ verb: word }) => verb(word)?.flows === true);
    const { parts, step } = workspace.book.account(entry);
    const sheet = verb(entry.verb)?.hot ? 'Melt sheet' : 'Step sheet';
    return {
      title: `${sheet}: ${stepWords(entry)}`,
      until: parts.at(-1)?.date,
      facts: factsOf(workspace, parts, step),
      sections: [
        ...(step ? stepSections(workspace, step) : []),
        ...timesOf(workspace, parts),
        ...benchOf(workspace, parts),
        ...notesOf(parts),
        ...unfinishedSection(workspace, parts),
        ...findingsSection(workspace, parts),
        ...cautionsSection(workspace, parts),
      ],
    };
  },
};

const factsOf = (workspace: Workspace, parts: readonly Entry[], step: Step | undefined): readonly Fact[] => {
  const [first] = parts;
  const more = parts.slice(1).flatMap(({ date }) => (date && date !== first?.date ? [date] : []));
  const gear = step?.entry.gear ?? first?.gear ?? [];
  return [
    ...fact(
      'day',
      `${first?.date ?? ''}${more.length > 0 ? `, more on ${listWords([...new Set(more)])}` : ''}`,
      first?.head,
    ),
    ...(step ? fact('owner', listWords(ownersIn(workspace, step))) : []),
    ...parts.flatMap(proofFacts),
    ...gear.map((one) => ({
      label: GEAR_WORDS[one.word],
      cell: words(gearWords(workspace, one, step)),
      place: one.item.place,
    })),
    ...(step ? fact('balance', verdictWords(step, workspace.workshop)) : []),
  ];
};

const GEAR_WORDS: Readonly<Record<Gear['word'], string>> = {
  crucible: 'crucible',
  'cupel-body': 'cupel',
  mould: 'mould',
  furnace: 'furnace',
};

/** What it is, how often it was used before, and what it last held. */
const gearWords = (workspace: Workspace, { word, item }: Gear, step: Step | undefined): string => {
  const { crucibles, cupels, moulds, furnaces } = workspace.workshop;
  const crucible = crucibles.get(item.name);
  const size = word === 'crucible' ? crucible?.volumeMillilitres : moulds.get(item.name)?.volumeMillilitres;
  const about = [
    size === undefined || word === 'furnace' || word === 'cupel-body' ? undefined : `${size} mL`,
    word === 'crucible' ? crucible?.material : word === 'cupel-body' ? cupels.get(item.name)?.material : undefined,
    word === 'furnace' && furnaces.get(item.name)?.powerWatts !== undefined
      ? `${furnaces.get(item.name)!.powerWatts! / 1000} kW`
      : undefined,
  ].filter((one) => one !== undefined);
  const name = about.length > 0 ? `${item.name} (${about.join(', ')})` : item.name;
  if (word !== 'crucible' && word !== 'cupel-body') return name;
  const uses = usesOf(workspace, word, item.name);
  const at = uses.findIndex((one) => one.step.entry.anchor === step?.entry.anchor);
  const before = at > 0 ? uses[at - 1]! : undefined;
  if (!before) return `${name}, first heat in this journal`;
  const held = `${listWords(feedNames(before.step))} of ${listWords(ownersIn(workspace, before.step))}`;
  return `${name}, heat ${at + 1}; before it ${stepWords(before.step.entry)}${before.step.entry.date ? ` on ${before.step.entry.date}` : ''} with ${held}`;
};

const stepSections = (workspace: Workspace, step: Step): readonly Section[] => {
  const { inputs, added, outputs, lost, solved } = step;
  const solvedFor = (flow: (typeof outputs)[number]): typeof flow.mass =>
    solved?.flow === flow.flow ? solved.mass : undefined;
  const charge = chargeOf(step);
  const together: Row[] =
    inputs.length + added.length > 1 && charge.value.greaterThan(0)
      ? [{ cells: [words('together'), NOTHING, mass(charge)], total: true }]
      : [];
  return [
    ...section(
      'Charge',
      table(FLOW_COLUMNS, [
        ...inputs.map((one) => flowRow(workspace, one, solvedFor(one))),
        ...added.flatMap((one) => [flowRow(workspace, one, solvedFor(one)), ...recipeRows(workspace, one)]),
        ...together,
      ]),
    ),
    ...section(
      'Products',
      table(
        FLOW_COLUMNS,
        [...outputs, ...lost].map((one) => flowRow(workspace, one, solvedFor(one))),
      ),
    ),
    ...section('Balance of mass', massTable(step), usualWords(step)),
    ...section('Balance of metals', metalTable(workspace, step), keptWords(workspace, step)),
  ];
};

/** What a recipe was made up of. */
const recipeRows = ({ workshop }: Workspace, { flow, mass: of }: Step['added'][number]): readonly Row[] => {
  const parts = of && flow.material ? expandRecipe(workshop, flow.material.name, of.value) : undefined;
  return (parts ?? []).map(({ material, grams: each }) => ({
    cells: [words(material), NOTHING, mass(exact(each.toDecimalPlaces(3)), 'g', 'by recipe')],
    depth: 1,
  }));
};

const massTable = (step: Step): Block | undefined => {
  const rows = balanceRows(step).map(
    ({ sign, word, mass: of, ground }): Row => ({
      cells: [
        words(sign === '-' ? `less ${word}` : word),
        of ? mass(of, 'g', ground) : { text: '?', ground: 'not known' },
      ],
      ...(sign === '=' ? { total: true } : {}),
    }),
  );
  return table([{ head: 'what' }, { head: 'weight', right: true }], rows);
};

const usualWords = ({ usual, unaccounted }: Step): Block | undefined =>
  usual && unaccounted
    ? sentences([says(`What such a step usually leaves unaccounted for: ${usual.why}.`)])
    : undefined;

const SHOWN: ReadonlySet<string> = new Set(['Au', 'Ag', 'Pt', 'Pd', 'Hg']);

const metalTable = (workspace: Workspace, step: Step): Block | undefined => {
  const balances = accountsOf(workspace)
    .balances(step)
    .filter(({ metal }) => SHOWN.has(metal));
  const columns = ['metal', 'went in', 'came out', 'usual loss', 'unaccounted for', 'so'];
  return table(
    columns.map((head, at) => ({ head, right: at > 0 && at < 5 })),
    balances.map(({ metal, in: went, out, usual, unaccounted, verdict, ground }) => ({
      cells: [
        words(metal),
        grams(went, ground === 'guessed' ? ground : undefined),
        grams(out),
        grams(usual),
        grams(unaccounted),
        words(METAL_VERDICTS[verdict]),
      ],
    })),
  );
};

const METAL_VERDICTS = {
  closed: 'weights, assays and usual losses explain it',
  doubtful: 'more than they explain, but no more than happens by chance',
  missing: 'metal is missing',
  gained: 'more came out than went in',
} as const;

/** What the cupels are reckoned to have taken. */
const keptWords = (workspace: Workspace, step: Step): Block | undefined => {
  const held = accountsOf(workspace)
    .cupels(step)
    .flatMap(({ name, fine, place }) =>
      fine.flatMap(({ metal, grams: of }) =>
        of && of.value > spread(of) / 10
          ? [says(`Cupel ${name} is reckoned to hold ${metal} ${grams(of, 'guessed').text}.`, place)]
          : [],
      ),
    );
  return sentences(held);
};

const timesOf = (workspace: Workspace, parts: readonly Entry[]): readonly Section[] => {
  const rows = parts.flatMap(({ clocks, date: under }) =>
    clocks.map(({ date, time, text, place }): Row => {
      const when = [date !== under || date === undefined ? date : undefined, time].filter(Boolean).join(' ');
      return { cells: [words(when === '' ? under : when), words(text)], place };
    }),
  );
  return section('Times', table([{ head: 'when' }, { head: 'what' }], rows), heatDrawn(workspace, parts));
};

/** The answers alone; the way to each is in the hover and in `fineweight plan`. */
const benchOf = (workspace: Workspace, parts: readonly Entry[]): readonly Section[] => {
  const answers = parts.flatMap((entry) => {
    const job = jobOf(workspace, entry, true);
    return job ? adviceOn(job) : [];
  });
  const told = answers.filter(({ label }) => label !== undefined).map(({ working, at }) => says(working().says, at));
  return section('What the bench works out', sentences(told));
};
