/** The details: what goes in, comes out, is weighed or agreed within an entry. */
import { led, may, mayBeLed, needs, orLed, type WordRow } from './slots';
import type { DetailGroup, VerbRow } from './verbs';

export interface DetailRow extends WordRow {
  readonly group: DetailGroup;
}

const row = (
  group: DetailGroup,
  word: string,
  slots: WordRow['slots'],
  meaning: string,
  example: string,
): DetailRow => ({
  group,
  word,
  slots,
  meaning,
  example,
});

export const DETAILS: readonly DetailRow[] = [
  row(
    'flows',
    'in',
    [orLed('of', 'lot'), may('amount')],
    'The whole of what is left of a lot, weighed again if an amount follows; `in AMOUNT of LOT` takes a part.',
    'in B57 58.16 g',
  ),
  row(
    'flows',
    'add',
    [needs('material'), may('amount')],
    'From the shelf: flux, acid, collector metal, a recipe.',
    'add borax-glass 60 g',
  ),
  row(
    'flows',
    'out',
    [may('lot'), may('amount', 'none'), may('kind')],
    'A product. Without a name it is called after its entry and kind.',
    'out B57 58.16 g button',
  ),
  row(
    'flows',
    'lost',
    [may('amount', 'none')],
    'Seen to be lost: spilt, boiled over. It takes metal with it as what was charged; beside flux it may be slag or metal.',
    'lost ~2 g because boiled over',
  ),
  row('flows', 'back', [needs('lot'), may('amount')], 'A sample or a shipment that returned.', 'back H14q2 2.03 g'),
  row('gear', 'crucible', [needs('crucible')], 'The pot of this heat.', 'crucible C4'),
  row(
    'gear',
    'cupel-body',
    [needs('cupel-body')],
    'The cupel, its own weight `before` and `after`.',
    'cupel-body cement-3',
  ),
  row('gear', 'mould', [needs('mould')], 'What it was poured into.', 'mould cone-1'),
  row('gear', 'furnace', [needs('furnace')], 'Where it was heated.', 'furnace F1'),
  row(
    'lot',
    'material',
    [needs('material')],
    'What the lot is; of an assay by density, what the metal sits in: `material quartz`.',
    'material black-sand',
  ),
  row(
    'slag',
    'silicate-degree',
    [needs('number')],
    'What the slag is to have of acid oxygen for one of base oxygen, as a figure or a range: the flux is worked out for it.',
    'silicate-degree 1.2',
  ),
  row('lot', 'bought', [needs('money')], 'Paid for, so ours.', 'bought 1800.00 USD'),
  row(
    'lot',
    'expect',
    [needs('reading')],
    'Our own guess of what it holds; of a melt, cast or blend what its product is to hold.',
    'expect Au 22..30 %',
  ),
  row('lot', 'claim', [needs('reading')], 'What the other side says it holds.', 'claim Au 70..75 %'),
  row('lot', 'stamp', [needs('reading')], 'The mark on the metal.', 'stamp Au 14 k'),
  row('lab', 'took', [needs('amount')], 'Weighed in for the assay.', 'took 250.12 mg'),
  row('lab', 'bead', [needs('amount')], 'The bead of a fire assay.', 'bead 231.40 mg'),
  row('lab', 'cornet', [needs('amount')], 'The gold after parting.', 'cornet 211.05 mg'),
  row('lab', 'air', [needs('amount')], 'Weight in air, for density.', 'air 54.73 g'),
  row(
    'lab',
    'water',
    [needs('amount'), may('temperature')],
    'Weight hung in water, and its temperature.',
    'water 51.20 g 19 °C',
  ),
  row('count', 'found', [needs('lot'), may('amount')], 'There at the stock-take.', 'found B57c 54.73 g'),
  row('count', 'missing', [needs('lot')], 'Not there at the stock-take.', 'missing S57'),
  row('check', 'reads', [needs('amount')], 'What the scale showed.', 'reads 100.01 g'),
  row('deal', 'received', [needs('amount')], 'Their weight as it came.', 'received 54.72 g'),
  row('deal', 'melted', [needs('amount')], 'Their weight after melting.', 'melted 54.58 g'),
  row('deal', 'pays', [needs('metal'), needs('share')], 'Share of the fine metal that is paid for.', 'pays Au 98.5 %'),
  row('deal', 'less', [needs('metal'), needs('share', 'amount')], 'Taken off the fine metal first.', 'less Au 1 fine'),
  row(
    'deal',
    'keeps',
    [needs('metal'), needs('share', 'amount')],
    'The least that is kept of a metal, where the payable share keeps less: of the weight, or a weight.',
    'keeps Au 2 fine',
  ),
  row(
    'deal',
    'price',
    [needs('metal'), needs('rate')],
    'The price used; of a shipment the one that was fixed for it.',
    'price Au 2475.00 USD/ozt',
  ),
  row(
    'deal',
    'payable',
    [needs('metal'), needs('amount')],
    'The payable metal as their sheet prints it.',
    'payable Au 53.22 g',
  ),
  row(
    'deal',
    'worth',
    [needs('metal'), needs('money')],
    'The money for a metal as their sheet prints it.',
    'worth Au 4243.46 USD',
  ),
  row(
    'deal',
    'charge',
    [needs('label'), needs('money', 'rate', 'share'), mayBeLed('of', 'basis'), mayBeLed('at least', 'money')],
    'What they take for the work, with `at least` never less than that; what carrying a shipment cost, what a laboratory asked.',
    'charge refining 0.30 USD/g of melted',
  ),
  row(
    'deal',
    'returns',
    [needs('metal'), needs('amount')],
    'Fine metal that they give back in place of paying for it.',
    'returns Au 53.22 g',
  ),
  row('deal', 'returned', [needs('lot')], 'The lot that such metal was weighed in as.', 'returned GRAIN-9'),
  row('deal', 'credit', [needs('label'), needs('money')], 'What they add.', 'credit sample 12.00 USD'),
  row('deal', 'total', [needs('money')], 'Their bottom line.', 'total 3804.74 USD'),
  row('deal', 'paid', [needs('date')], 'When the money came.', 'paid 2026-07-04'),

  row(
    'seal',
    'file',
    [needs('file'), led('digest', 'label')],
    'A photo or paper as it was when sealed.',
    'file scale-57.jpg digest sha256-3b0c9a71',
  ),
  row(
    'seal',
    'replaces',
    [needs('label')],
    'A seal that stood before and that this one was openly made anew instead of.',
    'replaces s1-77b0e4aa',
  ),
  row(
    'seal',
    'marks',
    [needs('text')],
    'The beginnings of the digests of a day, entry by entry, so that the changed one can be named.',
    'marks 2026-05-04 4f2a91bc 77b0e4aa',
  ),
];

/** Said of a line, or of all lines of an entry that say nothing themselves. */
export const REMARKS: readonly WordRow[] = [
  { word: 'on', slots: [needs('scale')], meaning: 'The scale it was read on.', example: 'on fine' },
  {
    word: 'tare',
    slots: [needs('amount', 'container')],
    meaning: 'The empty vessel, by weight or by name.',
    example: 'tare tray-2',
  },
  {
    word: 'before',
    slots: [needs('amount')],
    meaning: 'Weighed before use.',
    example: 'before 412.3 g, after 388.2 g',
  },
  {
    word: 'after',
    slots: [needs('amount')],
    meaning: 'Weighed after use; the difference is what was used.',
    example: 'after 388.2 g',
  },
  { word: 'keep', slots: [], meaning: 'Put by.', example: 'out 84 g slag, keep' },
  { word: 'discard', slots: [], meaning: 'Thrown away.', example: 'out 31 g slag, discard' },
  { word: 'at', slots: [needs('place')], meaning: 'Where it is kept.', example: 'at strongbox' },
  { word: 'to', slots: [needs('party')], meaning: 'Who has it now.', example: 'to harbour-lab' },
  { word: 'due', slots: [needs('date')], meaning: 'When it should be back.', example: 'due 2026-06-23' },
  { word: 'owner', slots: [needs('party')], meaning: 'Whose it is.', example: 'owner high-fell' },
  {
    word: 'hold',
    slots: [led('until', 'date')],
    meaning: 'Not to be touched before.',
    example: 'hold until 2026-05-11',
  },
  {
    word: 'pooled',
    slots: [led('by', 'pool')],
    meaning: "Several owners' metal joined knowingly.",
    example: 'pooled by weight',
  },
  { word: 'lent', slots: [may('party')], meaning: 'To come back.', example: 'add silver 60.30 g, lent' },
  {
    word: 'repays',
    slots: [may('party')],
    meaning: 'Gives back what was lent.',
    example: 'out R8k 60.30 g shot, repays',
  },
  { word: 'pieces', slots: [needs('number')], meaning: 'How many pieces.', example: 'pieces 14' },
  { word: 'batch', slots: [needs('label')], meaning: 'The batch of a reagent.', example: 'batch N26-3' },
  {
    word: 'fixing',
    slots: [needs('label')],
    meaning: "Of a price: which of the day's, by its name or hour.",
    example: 'quote Au 2480.00 USD/ozt, fixing afternoon',
  },
  { word: 'sealed', slots: [needs('label')], meaning: 'Number of the seal on the bag.', example: 'sealed "0041"' },
  { word: 'insured', slots: [needs('money')], meaning: 'Insured value.', example: 'insured 4000 USD' },
  { word: 'corrected', slots: [], meaning: 'Assay corrected by proofs.', example: 'assay H14q1 by fire, corrected' },
  { word: 'uncorrected', slots: [], meaning: 'Assay as it came.', example: 'uncorrected' },
  {
    word: 'umpire',
    slots: [],
    meaning: 'The result that settles a dispute.',
    example: 'assay H14q3 by fire at north-lab, umpire',
  },
  { word: 'hand', slots: [needs('person')], meaning: 'Who did it.', example: 'hand AB' },
  { word: 'witness', slots: [needs('person')], meaning: 'Who saw it.', example: 'witness CD' },
  { word: 'photo', slots: [needs('file')], meaning: 'A picture in this folder.', example: 'photo scale-57.jpg' },
  {
    word: 'paper',
    slots: [needs('file')],
    meaning: 'A certificate or slip in this folder.',
    example: 'paper slip-12.pdf',
  },
  {
    word: 'because',
    slots: [needs('text')],
    meaning: 'Why. Runs to the end of the line.',
    example: 'because digits swapped',
  },
  {
    word: 'note',
    slots: [needs('text')],
    meaning: 'A remark. Runs to the end of the line.',
    example: 'note stirred twice',
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
