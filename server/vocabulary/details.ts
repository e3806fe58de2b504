/** The details: what goes in, comes out, is weighed or agreed within an entry. */
import { led, may, mayBeLed, needs, orLed, type WordRow } from './slots';
import type { DetailGroup, VerbRow } from './verbs';

export interface DetailRow extends WordRow {
  readonly group: DetailGroup;
}

const row = (group: DetailGroup, word: string, slots: WordRow['slots']): DetailRow => ({
  group,
  word,
  slots,
});

export const DETAILS: readonly DetailRow[] = [
  row('flows', 'in', [orLed('of', 'lot'), may('amount')]),
  row('flows', 'add', [needs('material'), may('amount')]),
  row('flows', 'out', [may('lot'), may('amount', 'none'), may('kind')]),
  row('flows', 'lost', [may('amount', 'none')]),
  row('flows', 'back', [needs('lot'), may('amount')]),
  row('gear', 'crucible', [needs('crucible')]),
  row('gear', 'cupel-body', [needs('cupel-body')]),
  row('gear', 'mould', [needs('mould')]),
  row('gear', 'furnace', [needs('furnace')]),
  row('lot', 'material', [needs('material')]),
  row('slag', 'silicate-degree', [needs('number')]),
  row('lot', 'bought', [needs('money')]),
  row('lot', 'expect', [needs('reading')]),
  row('lot', 'claim', [needs('reading')]),
  row('lot', 'stamp', [needs('reading')]),
  row('lab', 'took', [needs('amount')]),
  row('lab', 'bead', [needs('amount')]),
  row('lab', 'cornet', [needs('amount')]),
  row('lab', 'air', [needs('amount')]),
  row('lab', 'water', [needs('amount'), may('temperature')]),
  row('count', 'found', [needs('lot'), may('amount')]),
  row('count', 'missing', [needs('lot')]),
  row('check', 'reads', [needs('amount')]),
  row('deal', 'received', [needs('amount')]),
  row('deal', 'melted', [needs('amount')]),
  row('deal', 'pays', [needs('metal'), needs('share')]),
  row('deal', 'less', [needs('metal'), needs('share', 'amount')]),
  row('deal', 'keeps', [needs('metal'), needs('share', 'amount')]),
  row('deal', 'price', [needs('metal'), needs('rate')]),
  row('deal', 'payable', [needs('metal'), needs('amount')]),
  row('deal', 'worth', [needs('metal'), needs('money')]),
  row('deal', 'charge', [
    needs('label'),
    needs('money', 'rate', 'share'),
    mayBeLed('of', 'basis'),
    mayBeLed('at least', 'money'),
  ]),
  row('deal', 'returns', [needs('metal'), needs('amount')]),
  row('deal', 'returned', [needs('lot')]),
  row('deal', 'credit', [needs('label'), needs('money')]),
  row('deal', 'total', [needs('money')]),
  row('deal', 'paid', [needs('date')]),

  row('seal', 'file', [needs('file'), led('digest', 'label')]),
  row('seal', 'replaces', [needs('label')]),
  row('seal', 'marks', [needs('text')]),
];

/** Said of a line, or of all lines of an entry that say nothing themselves. */
export const REMARKS: readonly WordRow[] = [
  { word: 'on', slots: [needs('scale')] },
  {
    word: 'tare',
    slots: [needs('amount', 'container')],
  },
  {
    word: 'before',
    slots: [needs('amount')],
  },
  {
    word: 'after',
    slots: [needs('amount')],
  },
  { word: 'keep', slots: [] },
  { word: 'discard', slots: [] },
  { word: 'at', slots: [needs('place')] },
  { word: 'to', slots: [needs('party')] },
  { word: 'due', slots: [needs('date')] },
  { word: 'owner', slots: [needs('party')] },
  {
    word: 'hold',
    slots: [led('until', 'date')],
  },
  {
    word: 'pooled',
    slots: [led('by', 'pool')],
  },
  { word: 'lent', slots: [may('party')] },
  {
    word: 'repays',
    slots: [may('party')],
  },
  { word: 'pieces', slots: [needs('number')] },
  { word: 'batch', slots: [needs('label')] },
  {
    word: 'fixing',
    slots: [needs('label')],
  },
  { word: 'sealed', slots: [needs('label')] },
  { word: 'insured', slots: [needs('money')] },
  { word: 'corrected', slots: [] },
  { word: 'uncorrected', slots: [] },
  {
    word: 'umpire',
    slots: [],
  },
  { word: 'hand', slots: [needs('person')] },
  { word: 'witness', slots: [needs('person')] },
  { word: 'photo', slots: [needs('file')] },
  {
    word: 'paper',
    slots: [needs('file')],
  },
  {
    word: 'because',
    slots: [needs('text')],
  },
  {
    word: 'note',
    slots: [needs('text')],
  },
];

const details = new Map(DETAILS.map((detail) => [detail.word, detail]));
const remarks = new Map(REMARKS.map((remark) => [remark.word, remark]));
export const detail = (word: string): DetailRow | undefined => details.get(word);
export const remark = (word: string): WordRow | undefined => remarks.get(word);

/** Whether a verb takes this detail. */
export const takesDetail = (of: VerbRow, word: string): boolean => {
  const found = details.get(word);
  return found !== undefined && (of.takes.includes(found.group) || (of.also?.includes(word) ?? false));
};

/** The details that a verb takes, in the table's order. */
export const detailsOf = (of: VerbRow): readonly DetailRow[] => DETAILS.filter(({ word }) => takesDetail(of, word));

export type FlowWord = 'in' | 'add' | 'out' | 'lost' | 'back' | 'found' | 'missing';
export type GearWord = 'crucible' | 'cupel-body' | 'mould' | 'furnace';

const FLOW_WORDS: ReadonlySet<string> = new Set(['in', 'add', 'out', 'lost', 'back', 'found', 'missing']);
const GEAR_WORDS: ReadonlySet<string> = new Set(['crucible', 'cupel-body', 'mould', 'furnace']);
export const isFlowWord = (word: string): word is FlowWord => FLOW_WORDS.has(word);
export const isGearWord = (word: string): word is GearWord => GEAR_WORDS.has(word);
