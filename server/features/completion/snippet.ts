/** A whole entry from its verb: the lines of the last entry of that kind, its names taken on by one, its figures left to be written. */
import type { Entry, Flow, Gear } from '../../engine/entry';
import type { VerbRow } from '../../vocabulary/verbs';
import type { Workspace } from '../../workspace/workspace';
import { entriesOf, nextEntryName, productName } from './names';

/** Text with `${1:field}` in it. `within` is the entry that is being written, which its own word may already have begun. */
export const entrySnippet = (workspace: Workspace, row: VerbRow, within?: Entry): string => {
  const others = entriesOf(workspace, row.word).filter(({ anchor }) => anchor !== within?.anchor);
  // One that was only begun is no pattern.
  const last = others.findLast(({ flows }) => flows.length > 0) ?? others.at(-1);
  const fields = new Fields();
  const name = nextEntryName(workspace, row.word, within);
  const head = [row.word, fields.next(row.names === 'lot' ? 'LOT' : (name ?? 'NAME'))];
  const lead = leadWords(row, last, fields);
  const gear = (last?.gear ?? []).map((one) => `, ${one.word} ${fields.next(one.item.name)}${weighed(one, fields)}`);
  const lines = last ? flowLines(last, name, fields) : plainLines(row, fields);
  return [`${head.join(' ')}${lead}${gear.join('')}`, ...lines.map((line) => `\t${line}`), '$0'].join('\n');
};

/** Numbers the fields as they come. */
class Fields {
  private count = 0;

  next(text = ''): string {
    this.count++;
    return `\${${this.count}:${text.replace(/[\\$}]/g, '\\$&')}}`;
  }
}

const leadWords = (row: VerbRow, last: Entry | undefined, fields: Fields): string => {
  const led = row.slots.filter(({ lead }) => lead !== undefined);
  return led
    .flatMap(({ lead, takes, optional }) => {
      const known = takes[0] === 'party' ? last?.party?.name : takes[0] === 'method' ? last?.method?.name : undefined;
      return optional && known === undefined ? [] : [` ${lead} ${fields.next(known ?? takes[0]!.toUpperCase())}`];
    })
    .join('');
};

const weighed = ({ said }: Gear, fields: Fields): string =>
  said.before ? `, before ${fields.next()} g${said.after ? `, after ${fields.next()} g` : ''}` : '';

const flowLines = (last: Entry, name: string | undefined, fields: Fields): readonly string[] =>
  last.flows.filter(({ none }) => !none).map((flow) => flowLine(flow, last, name, fields));

const flowLine = (flow: Flow, last: Entry, name: string | undefined, fields: Fields): string => {
  const { word, part, lot, material, kind } = flow;
  if (word === 'in' && part) return `in${amountField(flow, last, fields)} of ${fields.next('LOT')}`;
  const isProduct = word === 'out' && name && lot && last.name;
  const product = isProduct ? productOf(flow, last.name!.name, name) : undefined;
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
const productOf = ({ lot, kind }: Flow, step: string, name: string): string | undefined => {
  if (!lot || (kind !== undefined && lot.name.startsWith(`${step}.`))) return undefined;
  return productName(name, { step, product: lot.name }) ?? 'NAME';
};

/** Of a verb that was never used: its bare bones. */
const plainLines = (row: VerbRow, fields: Fields): readonly string[] => {
  if (row.flows) return [`in ${fields.next('LOT')}`, `out ${fields.next('NAME')} ${fields.next('?')} g`];
  return [];
};
