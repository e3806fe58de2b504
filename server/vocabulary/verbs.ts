/** The verbs: what an entry can say that happened. */
import { led, may, mayBeLed, needs, type WordRow } from './slots';

/** Details come in groups; a verb takes whole groups, and a few words of its own. */
export type DetailGroup = 'flows' | 'gear' | 'lot' | 'lab' | 'deal' | 'count' | 'check' | 'seal' | 'slag';

export type VerbTopic =
  | 'comes in'
  | 'preparation'
  | 'heat'
  | 'wet work'
  | 'joining'
  | 'assay'
  | 'stock'
  | 'selling'
  | 'record';

export interface VerbRow extends WordRow {
  readonly topic: VerbTopic;
  readonly takes: readonly DetailGroup[];
  /** Single details beside the groups. */
  readonly also?: readonly string[];
  /** What the first slot names: a new step, a lot, or something else. */
  readonly names: 'step' | 'new lot' | 'lot' | 'other';
  /** A step with a balance of mass: things go in and come out. */
  readonly flows?: true;
  /** Done at heat: fluxes give off their gas. */
  readonly hot?: true;
}

const step = (word: string, topic: VerbTopic, more: Partial<VerbRow> = {}): VerbRow => ({
  word,
  topic,
  slots: [needs('step')],
  takes: ['flows', 'gear'],
  names: 'step',
  flows: true,
  ...more,
});

const hot = { hot: true } as const;
/** What the product is to hold can be said beforehand. */
const TARGET: readonly string[] = ['expect'];

export const VERBS: readonly VerbRow[] = [
  {
    word: 'receive',
    topic: 'comes in',
    slots: [needs('lot'), may('amount'), mayBeLed('from', 'party')],
    takes: ['lot'],
    names: 'new lot',
  },
  {
    word: 'weigh',
    topic: 'stock',
    slots: [needs('lot'), may('amount')],
    takes: [],
    names: 'lot',
  },
  step('dry', 'preparation', hot),
  step('roast', 'preparation', hot),
  step('burn', 'preparation', hot),
  step('screen', 'preparation'),
  step('magnet', 'preparation'),
  step('pan', 'preparation'),
  step('wash', 'preparation'),
  step('retort', 'preparation', hot),
  step('melt', 'heat', { ...hot, takes: ['flows', 'gear', 'slag'], also: TARGET }),
  step('cast', 'heat', {
    ...hot,
    also: TARGET,
  }),
  step('cupel', 'heat', hot),
  step('dissolve', 'wet work'),
  step('part', 'wet work'),
  step('drop', 'wet work'),
  step('blend', 'joining', {
    also: TARGET,
  }),
  step('split', 'joining'),
  {
    word: 'sample',
    topic: 'assay',
    slots: [needs('lot')],
    takes: [],
    also: ['out', 'back', 'lost'],
    names: 'lot',
    flows: true,
  },
  {
    word: 'assay',
    topic: 'assay',
    slots: [needs('lot'), led('by', 'method'), mayBeLed('at', 'party')],
    takes: ['lab'],
    also: ['material', 'charge'],
    names: 'lot',
  },
  {
    word: 'count',
    topic: 'stock',
    slots: [may('place')],
    takes: ['count'],
    names: 'other',
  },
  {
    word: 'check-scale',
    topic: 'stock',
    slots: [needs('scale'), needs('amount')],
    takes: ['check'],
    names: 'other',
  },
  {
    word: 'relabel',
    topic: 'stock',
    slots: [needs('lot'), led('to', 'lot')],
    takes: [],
    names: 'lot',
  },
  {
    word: 'sell',
    topic: 'selling',
    slots: [needs('lot'), led('to', 'party'), mayBeLed('for', 'money')],
    takes: [],
    names: 'lot',
  },
  {
    word: 'discard',
    topic: 'stock',
    slots: [needs('lot'), may('amount')],
    takes: [],
    names: 'lot',
  },
  {
    word: 'quote',
    topic: 'selling',
    slots: [needs('metal'), needs('rate', 'money')],
    takes: [],
    names: 'other',
  },
  {
    word: 'offer',
    topic: 'selling',
    slots: [needs('lot'), mayBeLed('from', 'party')],
    takes: ['deal'],
    names: 'lot',
  },
  {
    word: 'ship',
    topic: 'selling',
    slots: [needs('step'), led('to', 'party')],
    takes: [],
    also: ['in', 'back', 'charge', 'price'],
    names: 'step',
  },
  {
    word: 'settle',
    topic: 'selling',
    slots: [needs('step', 'lot'), mayBeLed('with', 'party')],
    takes: ['deal'],
    names: 'other',
  },
  {
    word: 'seal',
    topic: 'record',
    slots: [needs('date'), mayBeLed('digest', 'label')],
    takes: ['seal'],
    names: 'other',
  },
  {
    word: 'note',
    topic: 'record',
    slots: [needs('text')],
    takes: [],
    names: 'other',
  },
];

const verbs = new Map(VERBS.map((row) => [row.word, row]));
export const verb = (word: string): VerbRow | undefined => verbs.get(word);
