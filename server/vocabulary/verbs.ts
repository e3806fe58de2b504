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

const step = (
  word: string,
  topic: VerbTopic,
  meaning: string,
  example: string,
  more: Partial<VerbRow> = {},
): VerbRow => ({
  word,
  topic,
  slots: [needs('step')],
  takes: ['flows', 'gear'],
  names: 'step',
  flows: true,
  meaning,
  example,
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
    meaning: 'A lot comes in.',
    example: 'receive TE-31 from own-dredge, material black-sand, 238.42 g',
  },
  {
    word: 'weigh',
    topic: 'stock',
    slots: [needs('lot'), may('amount')],
    takes: [],
    names: 'lot',
    meaning: 'Weighed again; this weight holds from here.',
    example: 'weigh TE-31 203.88 g on bench',
  },
  step('dry', 'preparation', 'Water driven off.', 'dry D12, in TE-31, out TE-31d 203.88 g', hot),
  step(
    'roast',
    'preparation',
    'Heated in air: sulphur, arsenic and carbon leave.',
    'roast R4, in SC-2, out SC-2r 88.1 g',
    hot,
  ),
  step(
    'burn',
    'preparation',
    'What burns is burnt off sweeps, lemel or filters.',
    'burn A3, in SW-1, out SW-1a 310 g ash',
    hot,
  ),
  step('screen', 'preparation', 'Divided by size.', 'screen N2, in SW-1a, out N2c 12.4 g, out N2f 297 g'),
  step('magnet', 'preparation', 'Iron taken out with a magnet.', 'magnet G1, in N2f, out G1m 18 g, out G1r 279 g'),
  step(
    'pan',
    'preparation',
    'Divided by weight in water.',
    'pan P2, in BS-4, out P2c 41.2 g concentrate, out 1.2 kg tails',
  ),
  step('wash', 'preparation', 'Rinsed or pickled clean.', 'wash W1, in B57, out B57 58.02 g clean'),
  step(
    'retort',
    'preparation',
    'Mercury distilled from amalgam, closed.',
    'retort T1, in AM-1, out AM-1s 24.1 g sponge',
    hot,
  ),
  step(
    'melt',
    'heat',
    'A heat in a crucible: metal, slag and what else comes out.',
    'melt M57, in TE-31d, out B57 58.16 g button',
    { ...hot, takes: ['flows', 'gear', 'slag'], also: TARGET },
  ),
  step('cast', 'heat', 'Melted and poured to bar or shot.', 'cast R10, in R8d, out R8k 60.30 g shot', {
    ...hot,
    also: TARGET,
  }),
  step(
    'cupel',
    'heat',
    'Lead drives base metal into the cupel; a bead stays.',
    'cupel K21, in B57, add lead 58 g, out B57c 54.73 g bead',
    hot,
  ),
  step('dissolve', 'wet work', 'Brought into solution.', 'dissolve V3, in SC-9, out V3L 0.9 L solution'),
  step('part', 'wet work', 'Silver dissolved away from gold.', 'part P8, in Q8g, out Q8au 27.61 g sponge annealed'),
  step(
    'drop',
    'wet work',
    'Metal or a salt thrown down from solution.',
    'drop R8, in Q8L, add copper 24.1 g, out R8w 81.4 g sponge wet',
  ),
  step('blend', 'joining', 'Lots joined cold.', 'blend J1, in L1 20.14 g, in L2 31.50 g, out J1x 51.64 g', {
    also: TARGET,
  }),
  step('split', 'joining', 'One lot divided.', 'split Y1, in L3 60.30 g, out Y1a 30.10 g, out Y1b 30.20 g'),
  {
    word: 'sample',
    topic: 'assay',
    slots: [needs('lot')],
    takes: [],
    also: ['out', 'back', 'lost'],
    names: 'lot',
    flows: true,
    meaning: 'A part is taken from a lot, which is less by it.',
    example: 'sample H14b, out H14q1 2.014 g drillings',
  },
  {
    word: 'assay',
    topic: 'assay',
    slots: [needs('lot'), led('by', 'method'), mayBeLed('at', 'party')],
    takes: ['lab'],
    also: ['material', 'charge'],
    names: 'lot',
    meaning: 'What a lot holds, by a method, at a lab or our own bench.',
    example: 'assay B57c by xrf, Au 91.2 %',
  },
  {
    word: 'count',
    topic: 'stock',
    slots: [may('place')],
    takes: ['count'],
    names: 'other',
    meaning: 'Stock-take.',
    example: 'count strongbox, found B57c 54.73 g',
  },
  {
    word: 'check-scale',
    topic: 'stock',
    slots: [needs('scale'), needs('amount')],
    takes: ['check'],
    names: 'other',
    meaning: 'A check weight put on a scale.',
    example: 'check-scale bench 100 g, reads 100.01 g',
  },
  {
    word: 'relabel',
    topic: 'stock',
    slots: [needs('lot'), led('to', 'lot')],
    takes: [],
    names: 'lot',
    meaning: 'The same metal under a new name.',
    example: 'relabel R8k to GRAIN-3',
  },
  {
    word: 'sell',
    topic: 'selling',
    slots: [needs('lot'), led('to', 'party'), mayBeLed('for', 'money')],
    takes: [],
    names: 'lot',
    meaning: 'The owner changes; the place may not.',
    example: 'sell B57c to harbour-refiner for 3804.74 USD',
  },
  {
    word: 'discard',
    topic: 'stock',
    slots: [needs('lot'), may('amount')],
    takes: [],
    names: 'lot',
    meaning: 'Thrown away.',
    example: 'discard S57 436.1 g',
  },
  {
    word: 'quote',
    topic: 'selling',
    slots: [needs('metal'), needs('rate', 'money')],
    takes: [],
    names: 'other',
    meaning: "The day's price of a metal, or of one currency in another.",
    example: 'quote Au 2480.00 USD/ozt',
  },
  {
    word: 'offer',
    topic: 'selling',
    slots: [needs('lot'), mayBeLed('from', 'party')],
    takes: ['deal'],
    names: 'lot',
    meaning: 'What somebody would pay for a lot.',
    example: 'offer B57c from harbour-refiner, pays Au 93 %',
  },
  {
    word: 'ship',
    topic: 'selling',
    slots: [needs('step'), led('to', 'party')],
    takes: [],
    also: ['in', 'back', 'charge', 'price'],
    names: 'step',
    meaning: 'Leaves the shop.',
    example: 'ship V7 to harbour-refiner, in B57c 54.73 g on bench',
  },
  {
    word: 'settle',
    topic: 'selling',
    slots: [needs('step', 'lot'), mayBeLed('with', 'party')],
    takes: ['deal'],
    names: 'other',
    meaning: "The account of a shipment or a lot, as the other side gives it; of a customer's lot, their bill.",
    example: 'settle V7, received 54.72 g, total 3804.74 USD',
  },
  {
    word: 'seal',
    topic: 'record',
    slots: [needs('date'), mayBeLed('digest', 'label')],
    takes: ['seal'],
    names: 'other',
    meaning: 'Closes the record up to a date; its lines are written by the program.',
    example: 'seal 2026-05-31',
  },
  {
    word: 'note',
    topic: 'record',
    slots: [needs('text')],
    takes: [],
    names: 'other',
    meaning: 'A remark.',
    example: 'note furnace F1 relined',
  },
];

const verbs = new Map(VERBS.map((row) => [row.word, row]));
export const verb = (word: string): VerbRow | undefined => verbs.get(word);
