/** Sections that several documents have. */
import { cautionName, cautionsAt, cautionWorking } from '../advice/cautions';
import { fromMeasured } from '../engine/accounts/inexact';
import { type Fine, fineOf } from '../engine/accounts/stock';
import { DEFERS } from '../engine/bench/hazards';
import type { FlowWeight } from '../engine/book';
import type { Entry, Flow, Said } from '../engine/entry';
import { unfinishedOf } from '../reports/unfinished';
import { flowWords, listWords, stepWords } from '../reports/words';
import { entryFindings } from '../rules/findings';
import type { Section as Written } from '../syntax/tree';
import { accountsOf } from '../workspace/accounts';
import type { Workspace } from '../workspace/workspace';
import { goldAndSilver, weight } from './cells';
import {
  type Cell,
  type Column,
  type Fact,
  NOTHING,
  quotes,
  type Row,
  type Section,
  says,
  section,
  sentences,
  words,
} from './model';

/** What a lot, a material or a product weighs and holds. */
export const FLOW_COLUMNS: readonly Column[] = [
  { head: 'what' },
  { head: 'kind' },
  { head: 'weight', right: true },
  { head: 'gold', right: true },
  { head: 'silver', right: true },
  { head: 'said' },
];

export const flowRow = (workspace: Workspace, of: FlowWeight, solved?: FlowWeight['mass']): Row => {
  const { flow } = of;
  const make = flow.word === 'in' ? workspace.book.make(flow) : undefined;
  const name = flowWords(flow);
  const kind = flow.kind ?? make?.kind ?? make?.material;
  return {
    cells: [
      words(name),
      words(kind === name ? '' : kind),
      flow.none ? words('none') : weight(of, solved),
      ...goldAndSilver(fineIn(workspace, of, solved)),
      words(saidWords(flow.said, flow)),
    ],
    place: flow.place,
  };
};

/** By the best that is known of its lot. */
export const fineIn = (
  workspace: Workspace,
  { flow, mass, volume }: FlowWeight,
  solved?: FlowWeight['mass'],
): readonly Fine[] => {
  const { metals } = accountsOf(workspace);
  const segment = flow.lot && metals.lineage.segment(flow);
  const amount = mass ?? solved ?? volume;
  return segment && amount ? fineOf(metals.best(segment), fromMeasured(amount)) : [];
};

/** `hot, kept, at slag-shelf, to harbour-lab`: what is said of a line besides its weight. */
export const saidWords = (said: Said, flow?: Flow): string =>
  [
    ...(flow?.amount?.states ?? []),
    said.scale && `on ${said.scale.name}`,
    said.keep && 'kept',
    said.discard && 'thrown away',
    said.at && `at ${said.at.name}`,
    said.to && `to ${said.to.name}`,
    said.due && `due ${said.due}`,
    said.owner && `owner ${said.owner.name}`,
    said.lent && 'lent',
    said.repays && 'repays what was lent',
    said.pieces && `${said.pieces.text} pieces`,
    said.batch && `batch ${said.batch.name}`,
    said.sealed && `sealed ${said.sealed.name}`,
    said.because && `because ${said.because}`,
    ...(said.notes ?? []),
  ]
    .filter((one) => one !== undefined)
    .join(', ');

/** Who did it, who saw it, what shows it. */
export const proofFacts = ({ said }: Entry): readonly Fact[] =>
  [
    fact('hand', said.hand?.name),
    fact('witness', said.witness?.name),
    fact('photo', said.photos?.map(({ name }) => name).join(', ')),
    fact('paper', said.papers?.map(({ name }) => name).join(', ')),
  ].flat();

/** None where there is nothing to say. */
export const fact = (label: string, value: string | Cell | undefined, place?: Fact['place']): readonly Fact[] => {
  const cell = typeof value === 'string' ? words(value) : (value ?? NOTHING);
  return cell.text === '' ? [] : [{ label, cell, place }];
};

/** As they are written on the page, for what is found on it: a correction keeps its place. */
const written = ({ pages }: Workspace, { anchor }: Entry): Entry | undefined =>
  pages.get(anchor.file)?.bySection.get(anchor as Written);

/** Everything that is found in these entries, in their order. */
export const findingsSection = (workspace: Workspace, entries: readonly Entry[]): readonly Section[] => {
  const found = entries.flatMap((entry) => {
    const own = written(workspace, entry);
    return own ? entryFindings(workspace, own, 'short') : [];
  });
  const told = found.map(({ says: text, severity, place }) => says(`${severity}: ${text}`, place));
  return section('Findings', sentences(told));
};

export const unfinishedSection = (workspace: Workspace, entries: readonly Entry[]): readonly Section[] => {
  const anchors = new Set(entries.map(({ anchor }) => anchor));
  const files = new Set([...anchors].map(({ file }) => file));
  const open = unfinishedOf(workspace, files).filter(({ entry }) => anchors.has(entry.anchor));
  return section('Still to weigh or to write', sentences(open.map(({ says: text, place }) => says(text, place))));
};

/** Each kind once, with the entries that set it off; and to whom it all defers. */
export const cautionsSection = (workspace: Workspace, entries: readonly Entry[]): readonly Section[] => {
  const byCode = new Map<string, { readonly text: string; readonly by: string[] }>();
  for (const entry of entries) {
    for (const caution of cautionsAt(workspace, entry)) {
      const limits = (cautionWorking(caution).rows ?? []).map((row) => `\n${row}`).join('');
      const text = `${caution.says} (${caution.source})${limits}`;
      const so = byCode.get(caution.code) ?? { text: `${cautionName(caution)}|${text}`, by: [] };
      if (!so.by.includes(stepWords(entry))) so.by.push(stepWords(entry));
      byCode.set(caution.code, so);
    }
  }
  if (byCode.size === 0) return [];
  const told = [...byCode.values()].map(({ text, by }) => {
    const at = text.indexOf('|');
    return says(`${text.slice(0, at)} (${listWords(by)}): ${text.slice(at + 1)}`);
  });
  return section('Cautions', sentences([...told, says(DEFERS)]));
};

/** Notes of the entries themselves, and their reasons. */
export const notesOf = (entries: readonly Entry[]): readonly Section[] =>
  section(
    'Notes',
    sentences(
      entries.flatMap((entry) => [
        ...(entry.said.because ? [quotes(`because ${entry.said.because}`, entry.head)] : []),
        ...(entry.said.notes ?? []).map((note) => quotes(note, entry.head)),
      ]),
    ),
  );
