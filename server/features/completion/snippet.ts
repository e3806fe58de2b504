/**
 * A whole entry from its verb: the lines of the last entry of that kind, its names taken on by one, its figures left to be written. Of a verb that was
 * never used, the lines of its example in the vocabulary, with its names left to be written too.
 */
import type { Entry, Flow, Gear } from '../../engine/entry';
import { parsePage } from '../../syntax/parse';
import type { AmountNode, LineNode, PieceNode, Section, Value } from '../../syntax/tree';
import type { SlotTakes } from '../../vocabulary/slots';
import { toldOf } from '../../vocabulary/told';
import type { VerbRow } from '../../vocabulary/verbs';
import type { Workspace } from '../../workspace/workspace';
import { entriesOf, nextEntryName, productName } from './names';

/** Text with `${1:field}` in it. `within` is the entry that is being written, which its own word may already have begun. */
export const entrySnippet = (workspace: Workspace, row: VerbRow, within?: Entry): string => {
  const others = entriesOf(workspace, row.word).filter(({ anchor }) => anchor !== within?.anchor);
  // One that was only begun is no pattern.
  const last = others.findLast(({ anchor }) => isWritten(anchor as Section)) ?? others.at(-1);
  const fields = new Fields();
  const name = row.names === 'lot' ? 'LOT' : nextEntryName(workspace, row.word, within);
  const lines = last ? linesAfter(last, name, fields) : linesOfExample(row, fields);
  return [lines[0], ...lines.slice(1).map((line) => `\t${line}`), '$0'].join('\n');
};

const isWritten = ({ lines }: Section): boolean =>
  lines.some(({ pieces }) => pieces.some(({ kind }) => kind !== 'head'));

/** Numbers the fields as they come. */
class Fields {
  private count = 0;

  next(text = ''): string {
    this.count++;
    return `\${${this.count}:${text.replace(/[\\$}]/g, '\\$&')}}`;
  }
}

/** As the last entry, flows and vessels by what they mean, the rest as it is written. */
const linesAfter = (last: Entry, name: string | undefined, fields: Fields): readonly string[] => {
  const { lines } = last.anchor as Section;
  const [head, ...heads] = lines.flatMap((line) => (isHead(line) ? line.pieces : []));
  if (!head) return [last.verb];
  const said = (pieces: readonly PieceNode[]): string[] => pieces.flatMap((piece) => pieceText(piece, fields, true));
  const first = pieceText(head, fields, true, name)[0] ?? last.verb;
  const gear = last.gear.map((one) => `${one.word} ${fields.next(one.item.name)}${weighed(one, fields)}`);
  // What is said beside a flow is said of that one alone.
  const others = lines.filter((line) => !isHead(line) && !line.pieces.some(isFlowOrGear));
  const firstFlow = lines.findIndex(({ pieces }) => pieces.some(isFlow));
  const isBefore = (line: LineNode): boolean => firstFlow < 0 || lines.indexOf(line) < firstFlow;
  const joined = (some: readonly LineNode[]): string[] =>
    some.map(({ pieces }) => said(pieces).join(', ')).filter((line) => line !== '');
  return [
    [first, ...said(heads.some(isFlow) ? [] : heads.filter((piece) => !isFlowOrGear(piece))), ...gear].join(', '),
    ...joined(others.filter(isBefore)),
    ...last.flows
      .filter(({ word, none }) => !none && FLOWS.has(word))
      .map((flow) => flowLine(flow, last, name, fields)),
    ...joined(others.filter((line) => !isBefore(line))),
  ];
};

/** Each piece on its line. */
const linesOfExample = (row: VerbRow, fields: Fields): readonly string[] =>
  parsePage('', toldOf(row).example)
    .sections.flatMap(({ lines }) => lines.flatMap(({ pieces }) => pieces))
    .flatMap((piece) => pieceText(piece, fields, false));

const isHead = ({ pieces }: LineNode): boolean => pieces[0]?.kind === 'head';

const FLOWS: ReadonlySet<string> = new Set(['in', 'add', 'out', 'lost', 'back']);
const GEAR: ReadonlySet<string> = new Set(['crucible', 'cupel-body', 'mould', 'furnace']);

const isFlow = ({ row }: PieceNode): boolean => FLOWS.has(row?.word ?? '');
const isFlowOrGear = (piece: PieceNode): boolean => isFlow(piece) || GEAR.has(piece.row?.word ?? '');

/** What holds for one entry alone. */
const OF_ONE: ReadonlySet<SlotTakes> = new Set(['file', 'text', 'label']);
/** Of these a name is a choice that the next entry may well share; of all others it is known only where it was used. */
const CHOICES: ReadonlySet<SlotTakes> = new Set(['kind', 'method', 'basis', 'pool', 'metal']);

/** A piece with its figures as fields to be written; none of what holds for one entry alone. With `known`, names stay. */
const pieceText = (piece: PieceNode, fields: Fields, known: boolean, name?: string): readonly string[] => {
  const { kind, row, word, values, filled, readings, scale, states } = piece;
  if (kind === 'stray' || (kind !== 'head' && row?.slots.some(({ takes }) => takes.some((one) => OF_ONE.has(one)))))
    return [];
  const isNamed = kind === 'head' && row !== undefined && 'names' in row && row.names !== 'other';
  const said = readings.length > 0 && kind === 'reading' ? [] : values;
  const parts = said.flatMap((value, index): string => {
    const slot = row?.slots[filled.indexOf(value)];
    const takes = slot?.takes[0];
    const lead = value.lead ? `${value.lead.text} ` : '';
    if (isNamed && index === 0) return fields.next(name ?? (row.names === 'lot' ? 'LOT' : 'NAME'));
    return `${lead}${valueText(value, takes, { fields, known, piece })}`;
  });
  const metals = readings.map(({ symbol, amount }) => `${symbol.text} ${amountText(amount, fields)}`).join('  ');
  const on = scale && known ? `on ${scale.text}` : '';
  return [
    [word?.text.toLowerCase(), ...parts, metals, ...states.map(({ text }) => text), on].filter(Boolean).join(' '),
  ];
};

interface How {
  readonly fields: Fields;
  readonly known: boolean;
  readonly piece: PieceNode;
}

const valueText = (value: Value, takes: SlotTakes | undefined, { fields, known, piece }: How): string => {
  switch (value.shape) {
    case 'amount':
      return amountText(value, fields);
    case 'money':
      return `${fields.next('?')} ${value.currency}${value.per ? `/${value.per.text}` : ''}`;
    case 'word': {
      if (takes === 'step') return fields.next('NAME');
      if (takes === 'lot') return fields.next(piece.row?.word === 'out' || value.lead?.text === 'to' ? 'NAME' : 'LOT');
      const stays = known || takes === undefined || CHOICES.has(takes);
      return fields.next(stays ? value.word.text : takes.toUpperCase());
    }
    case 'date':
      return fields.next('DATE');
    case 'text':
      return fields.next('TEXT');
  }
};

const amountText = ({ gross, form, parts, unit, states }: AmountNode, fields: Fields): string => {
  const symbol = unit ?? parts.at(-1)?.unit;
  const figure = form === 'none' ? 'none' : fields.next('?');
  return [gross ? 'gross' : '', figure, symbol?.text, ...states.map(({ text }) => text)].filter(Boolean).join(' ');
};

const weighed = ({ said }: Gear, fields: Fields): string =>
  said.before ? `, before ${fields.next()} g${said.after ? `, after ${fields.next()} g` : ''}` : '';

const flowLine = (flow: Flow, last: Entry, name: string | undefined, fields: Fields): string => {
  const { word, part, material, kind } = flow;
  if (word === 'in' && part) return `in${amountField(flow, last, fields)} of ${fields.next('LOT')}`;
  const product = word === 'out' && last.name ? productOf(flow, last.name.name, name) : undefined;
  const called = word === 'in' ? 'LOT' : (material?.name ?? product);
  const field = called === undefined ? '' : ` ${fields.next(called)}`;
  return `${word}${field}${amountField(flow, last, fields)}${kind ? ` ${kind}` : ''}`;
};

/** Nothing for a flow that was not weighed. */
const amountField = ({ amount, said }: Flow, last: Entry, fields: Fields): string => {
  const scale = amount?.scale ?? said.scale;
  const on = scale && !last.said.scale ? ` on ${scale.name}` : '';
  return amount ? ` ${fields.next('?')} ${amount.unit?.symbol ?? 'g'}${on}` : '';
};

/** Undefined for a product that was not given a name. */
const productOf = ({ lot, kind }: Flow, step: string, name: string | undefined): string | undefined => {
  if (!lot || (kind !== undefined && lot.name.startsWith(`${step}.`))) return undefined;
  return (name && productName(name, { step, product: lot.name })) ?? 'NAME';
};
