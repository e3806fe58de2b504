/**
 * What each verb, detail and remark means, and a line that uses it. Apart from their rows, as no page is read or checked by it: hover, completion and
 * the reference's tables ask, and a browser fetches it with them when a hand does.
 */
import type { WordRow } from './slots';
import { verb } from './verbs';

export interface Told {
  /** One line, in trade words. */
  readonly meaning: string;
  /** A line that uses it. */
  readonly example: string;
}

type Texts = Readonly<Record<string, readonly [meaning: string, example: string]>>;

const VERB_TEXTS: Texts = {
  receive: ['A lot comes in.', 'receive TE-31 from own-dredge, material black-sand, 238.42 g'],
  weigh: ['Weighed again; this weight holds from here.', 'weigh TE-31 203.88 g on bench'],
  dry: ['Water driven off.', 'dry D12, in TE-31, out TE-31d 203.88 g'],
  roast: ['Heated in air: sulphur, arsenic and carbon leave.', 'roast R4, in SC-2, out SC-2r 88.1 g'],
  burn: ['What burns is burnt off sweeps, lemel or filters.', 'burn A3, in SW-1, out SW-1a 310 g ash'],
  screen: ['Divided by size.', 'screen N2, in SW-1a, out N2c 12.4 g, out N2f 297 g'],
  magnet: ['Iron taken out with a magnet.', 'magnet G1, in N2f, out G1m 18 g, out G1r 279 g'],
  pan: ['Divided by weight in water.', 'pan P2, in BS-4, out P2c 41.2 g concentrate, out 1.2 kg tails'],
  wash: ['Rinsed or pickled clean.', 'wash W1, in B57, out B57 58.02 g clean'],
  retort: ['Mercury distilled from amalgam, closed.', 'retort T1, in AM-1, out AM-1s 24.1 g sponge'],
  melt: ['A heat in a crucible: metal, slag and what else comes out.', 'melt M57, in TE-31d, out B57 58.16 g button'],
  cast: ['Melted and poured to bar or shot.', 'cast R10, in R8d, out R8k 60.30 g shot'],
  cupel: [
    'Lead drives base metal into the cupel; a bead stays.',
    'cupel K21, in B57, add lead 58 g, out B57c 54.73 g bead',
  ],
  dissolve: ['Brought into solution.', 'dissolve V3, in SC-9, out V3L 0.9 L solution'],
  part: ['Silver dissolved away from gold.', 'part P8, in Q8g, out Q8au 27.61 g sponge annealed'],
  drop: ['Metal or a salt thrown down from solution.', 'drop R8, in Q8L, add copper 24.1 g, out R8w 81.4 g sponge wet'],
  blend: ['Lots joined cold.', 'blend J1, in L1 20.14 g, in L2 31.50 g, out J1x 51.64 g'],
  split: ['One lot divided.', 'split Y1, in L3 60.30 g, out Y1a 30.10 g, out Y1b 30.20 g'],
  sample: ['A part is taken from a lot, which is less by it.', 'sample H14b, out H14q1 2.014 g drillings'],
  assay: ['What a lot holds, by a method, at a lab or our own bench.', 'assay B57c by xrf, Au 91.2 %'],
  count: ['Stock-take.', 'count strongbox, found B57c 54.73 g'],
  'check-scale': ['A check weight put on a scale.', 'check-scale bench 100 g, reads 100.01 g'],
  relabel: ['The same metal under a new name.', 'relabel R8k to GRAIN-3'],
  sell: ['The owner changes; the place may not.', 'sell B57c to harbour-refiner for 3804.74 USD'],
  discard: ['Thrown away.', 'discard S57 436.1 g'],
  quote: ["The day's price of a metal, or of one currency in another.", 'quote Au 2480.00 USD/ozt'],
  offer: ['What somebody would pay for a lot.', 'offer B57c from harbour-refiner, pays Au 93 %'],
  ship: ['Leaves the shop.', 'ship V7 to harbour-refiner, in B57c 54.73 g on bench'],
  settle: [
    "The account of a shipment or a lot, as the other side gives it; of a customer's lot, their bill.",
    'settle V7, received 54.72 g, total 3804.74 USD',
  ],
  seal: ['Closes the record up to a date; its lines are written by the program.', 'seal 2026-05-31'],
  note: ['A remark.', 'note furnace F1 relined'],
};

const DETAIL_TEXTS: Texts = {
  in: [
    'The whole of what is left of a lot, weighed again if an amount follows; `in AMOUNT of LOT` takes a part.',
    'in B57 58.16 g',
  ],
  add: ['From the shelf: flux, acid, collector metal, a recipe.', 'add borax-glass 60 g'],
  out: ['A product. Without a name it is called after its entry and kind.', 'out B57 58.16 g button'],
  lost: [
    'Seen to be lost: spilt, boiled over. It takes metal with it as what was charged; beside flux it may be slag or metal.',
    'lost ~2 g because boiled over',
  ],
  back: ['A sample or a shipment that returned.', 'back H14q2 2.03 g'],
  crucible: ['The pot of this heat.', 'crucible C4'],
  'cupel-body': ['The cupel, its own weight `before` and `after`.', 'cupel-body cement-3'],
  mould: ['What it was poured into.', 'mould cone-1'],
  furnace: ['Where it was heated.', 'furnace F1'],
  material: [
    'What the lot is; of an assay by density, what the metal sits in: `material quartz`.',
    'material black-sand',
  ],
  'silicate-degree': [
    'What the slag is to have of acid oxygen for one of base oxygen, as a figure or a range: the flux is worked out for it.',
    'silicate-degree 1.2',
  ],
  bought: ['Paid for, so ours.', 'bought 1800.00 USD'],
  expect: [
    'Our own guess of what it holds; of a melt, cast or blend what its product is to hold.',
    'expect Au 22..30 %',
  ],
  claim: ['What the other side says it holds.', 'claim Au 70..75 %'],
  stamp: ['The mark on the metal.', 'stamp Au 14 k'],
  took: ['Weighed in for the assay.', 'took 250.12 mg'],
  bead: ['The bead of a fire assay.', 'bead 231.40 mg'],
  cornet: ['The gold after parting.', 'cornet 211.05 mg'],
  air: ['Weight in air, for density.', 'air 54.73 g'],
  water: ['Weight hung in water, and its temperature.', 'water 51.20 g 19 °C'],
  found: ['There at the stock-take.', 'found B57c 54.73 g'],
  missing: ['Not there at the stock-take.', 'missing S57'],
  reads: ['What the scale showed.', 'reads 100.01 g'],
  received: ['Their weight as it came.', 'received 54.72 g'],
  melted: ['Their weight after melting.', 'melted 54.58 g'],
  pays: ['Share of the fine metal that is paid for.', 'pays Au 98.5 %'],
  less: ['Taken off the fine metal first.', 'less Au 1 fine'],
  keeps: [
    'The least that is kept of a metal, where the payable share keeps less: of the weight, or a weight.',
    'keeps Au 2 fine',
  ],
  price: ['The price used; of a shipment the one that was fixed for it.', 'price Au 2475.00 USD/ozt'],
  payable: ['The payable metal as their sheet prints it.', 'payable Au 53.22 g'],
  worth: ['The money for a metal as their sheet prints it.', 'worth Au 4243.46 USD'],
  charge: [
    'What they take for the work, with `at least` never less than that; what carrying a shipment cost, what a laboratory asked.',
    'charge refining 0.30 USD/g of melted',
  ],
  returns: ['Fine metal that they give back in place of paying for it.', 'returns Au 53.22 g'],
  returned: ['The lot that such metal was weighed in as.', 'returned GRAIN-9'],
  credit: ['What they add.', 'credit sample 12.00 USD'],
  total: ['Their bottom line.', 'total 3804.74 USD'],
  paid: ['When the money came.', 'paid 2026-07-04'],
  file: ['A photo or paper as it was when sealed.', 'file scale-57.jpg digest sha256-3b0c9a71'],
  replaces: ['A seal that stood before and that this one was openly made anew instead of.', 'replaces s1-77b0e4aa'],
  marks: [
    'The beginnings of the digests of a day, entry by entry, so that the changed one can be named.',
    'marks 2026-05-04 4f2a91bc 77b0e4aa',
  ],
};

/** They may stand on any line. */
const REMARK_TEXTS: Texts = {
  on: ['The scale it was read on.', 'on fine'],
  tare: ['The empty vessel, by weight or by name.', 'tare tray-2'],
  before: ['Weighed before use.', 'before 412.3 g, after 388.2 g'],
  after: ['Weighed after use; the difference is what was used.', 'after 388.2 g'],
  keep: ['Put by.', 'out 84 g slag, keep'],
  discard: ['Thrown away.', 'out 31 g slag, discard'],
  at: ['Where it is kept.', 'at strongbox'],
  to: ['Who has it now.', 'to harbour-lab'],
  due: ['When it should be back.', 'due 2026-06-23'],
  owner: ['Whose it is.', 'owner high-fell'],
  hold: ['Not to be touched before.', 'hold until 2026-05-11'],
  pooled: ["Several owners' metal joined knowingly.", 'pooled by weight'],
  lent: ['To come back.', 'add silver 60.30 g, lent'],
  repays: ['Gives back what was lent.', 'out R8k 60.30 g shot, repays'],
  pieces: ['How many pieces.', 'pieces 14'],
  batch: ['The batch of a reagent.', 'batch N26-3'],
  fixing: ["Of a price: which of the day's, by its name or hour.", 'quote Au 2480.00 USD/ozt, fixing afternoon'],
  sealed: ['Number of the seal on the bag.', 'sealed "0041"'],
  insured: ['Insured value.', 'insured 4000 USD'],
  corrected: ['Assay corrected by proofs.', 'assay H14q1 by fire, corrected'],
  uncorrected: ['Assay as it came.', 'uncorrected'],
  umpire: ['The result that settles a dispute.', 'assay H14q3 by fire at north-lab, umpire'],
  hand: ['Who did it.', 'hand AB'],
  witness: ['Who saw it.', 'witness CD'],
  photo: ['A picture in this folder.', 'photo scale-57.jpg'],
  paper: ['A certificate or slip in this folder.', 'paper slip-12.pdf'],
  because: ['Why. Runs to the end of the line.', 'because digits swapped'],
  note: ['A remark. Runs to the end of the line.', 'note stirred twice'],
};

const VERBS_TOLD = new Map(Object.entries(VERB_TEXTS));
const OTHERS_TOLD = new Map([...Object.entries(DETAIL_TEXTS), ...Object.entries(REMARK_TEXTS)]);

/** Of a verb, a detail or a remark; of what is none of them, nothing. */
export const toldOf = (row: WordRow): Told => {
  const told = verb(row.word) === row ? VERBS_TOLD : OTHERS_TOLD;
  const [meaning, example] = told.get(row.word) ?? ['', ''];
  return { meaning, example };
};
