/**
 * Every section and key of the workshop file as data: what may stand there, what it means, an example. Checks, completion, hover and the
 * reference's tables are made from it.
 */

/** What a value may be, each with how it is written: said when something else stands there. */
export const VALUE_KINDS = {
  text: { says: 'text', example: 'Tarn End' },
  mass: { says: 'a weight', example: '38.45 g' },
  'mass and spread': { says: 'a weight', example: '38.45 g` or `38.45 ±0.02 g' },
  volume: { says: 'a volume', example: '250 mL' },
  temperature: { says: 'a temperature', example: '1250 °C' },
  power: { says: 'a power', example: '3 kW' },
  density: { says: 'a density', example: '1.1 g/mL` or `1.0..1.3 g/mL' },
  share: { says: 'a share', example: '3 %' },
  'share range': { says: 'a share or a range of it', example: '67..75 %' },
  coverage: { says: 'a number from 1 to 4', example: '2' },
  degree: { says: 'a silicate degree from 0.1 to 6, or a range', example: '1.5` or `1..1.5' },
  deviations: { says: 'a number from 0.1 to 20', example: '0.5' },
  heats: { says: 'a whole number from 1 to 10000', example: '30' },
  days: { says: 'a number of days', example: '12 days' },
  date: { says: 'a date', example: '2026-05-01' },
  'yes or no': { says: '`yes` or `no`', example: 'yes' },
  class: { says: '`I`, `II`, `III` or `IIII`', example: 'II' },
  heating: { says: '`resistance`, `induction` or `gas`', example: 'gas' },
  role: { says: '`own`, `customer`, `refiner`, `lab` or `supplier`', example: 'refiner' },
  paper: { says: '`A4` or `letter`', example: 'A4' },
  currency: { says: 'a currency code of three capitals', example: 'USD' },
  'mass unit': { says: 'a unit of mass', example: 'ozt' },
  price: { says: 'money for a weight', example: '4.20 USD/kg' },
  wage: { says: 'money for an hour', example: '28.00 USD/h' },
  'monthly sum': { says: 'money for a month', example: '450.00 USD/month' },
  'assay rule': { says: '`theirs` or `exchange`', example: 'exchange' },
  'umpire rule': { says: '`result`, `nearest` or `middle`', example: 'result' },
  'price day': { says: '`shipped`, `settled` or `paid`', example: 'settled' },
  rounding: { says: '`half-even`, `half-up` or `down`', example: 'half-up' },
  keeper: { says: '`shop` or `owner`', example: 'owner' },
  material: { says: 'the name of a built-in material', example: 'black-sand' },
  composition: { says: 'formulas or metals, each with its share', example: 'SiO2: 40 %' },
  parts: { says: 'materials, each with its parts', example: 'borax-glass: 2 parts' },
  metals: { says: 'metals, each with a share', example: 'Au: 98.5 %' },
  payables: { says: 'metals, each with a share, or with shares by fineness', example: 'Au: { 0 %: 96 %, 75 %: 98 % }' },
  cuts: { says: 'metals, each with a share or a weight', example: 'Au: 0.3 %` or `Au: 0.5 g' },
  charges: { says: 'charges, each with money or a share', example: 'melting: 45.00 USD' },
  losses: { says: 'kinds of step, each with what it usually loses', example: 'melt: 0..0.5 %' },
  terms: { says: 'dates, each with what was agreed from then on', example: '2026-01-01:' },
} as const;

export type ValueKind = keyof typeof VALUE_KINDS;

/** Kinds of value that are one of a few words. */
export const CHOICES = {
  class: ['I', 'II', 'III', 'IIII'],
  heating: ['resistance', 'induction', 'gas'],
  role: ['own', 'customer', 'refiner', 'lab', 'supplier'],
  paper: ['A4', 'letter'],
} as const;

/** How a value is written: what it is, in a sentence, and an example. */
export interface Form {
  readonly says: string;
  readonly example: string;
}

/** One line of a recipe, one of charges. */
export const PART: Form = { says: 'a part', example: '2 parts' };
export const CHARGE: Form = { says: 'a charge', example: '45.00 USD` or `0.30 USD/g of melted' };

export const SECTION_NAMES = [
  'shop',
  'scales',
  'measures',
  'crucibles',
  'moulds',
  'cupels',
  'furnaces',
  'containers',
  'materials',
  'recipes',
  'parties',
  'hands',
  'limits',
  'reports',
] as const;

export type SectionName = (typeof SECTION_NAMES)[number];

export interface SectionRow {
  readonly section: SectionName;
  /** `keys` of its own; `things` by name, each with keys; or by name one value of a kind. */
  readonly holds: 'keys' | 'things' | ValueKind;
  readonly meaning: string;
  readonly example: string;
}

/** Where a key may stand: in a section, in a thing of a section, or in dated terms. */
export type Owner = SectionName | 'terms';

export interface KeyRow {
  readonly in: Owner;
  readonly key: string;
  readonly value: ValueKind;
  readonly meaning: string;
  readonly example: string;
  /** May be left out: `bench: 0.01 g` says the division. */
  readonly short?: true;
  /** Changes from day to day, or is a remark: no weight, metal or money of the record rests on it, and a seal leaves it out. */
  readonly passing?: true;
}

const section = (name: SectionName, holds: SectionRow['holds'], meaning: string, example: string): SectionRow => ({
  section: name,
  holds,
  meaning,
  example,
});

export const SECTIONS: readonly SectionRow[] = [
  section('shop', 'keys', 'Who we are.', 'name: Tarn End'),
  section('scales', 'things', 'What we weigh on, named after `on`.', 'bench: 0.01 g'),
  section('measures', 'mass', "The shop's own measures; an amount in them is a guess.", 'spoon: 14 g'),
  section('crucibles', 'things', 'What we melt in.', 'C4: 250 mL'),
  section('moulds', 'things', 'What we pour into.', 'cone-1: 120 mL'),
  section('cupels', 'things', 'What we cupel on.', 'cement-3: 92 g'),
  section('furnaces', 'things', 'What heats.', 'F1: 3 kW'),
  section('containers', 'things', 'Trays, dishes and bags with a known tare.', 'tray-2: 38.45 g'),
  section(
    'materials',
    'things',
    "The shop's own materials, or built-in ones as the shop has them.",
    'beach-sand: black-sand',
  ),
  section('recipes', 'parts', 'Mixtures by mass, expanded where they are added.', 'borax-glass: 2 parts'),
  section('parties', 'things', 'Whom we deal with.', 'harbour-refiner: refiner'),
  section('hands', 'text', 'Who works here, by the initials behind `hand` and `witness`.', 'AB: A. Beck'),
  section('limits', 'keys', 'What counts as too much.', 'fill: 67..75 %'),
  section('reports', 'keys', 'How reports are laid out.', 'paper: A4'),
];

const row = (owner: Owner, key: string, value: ValueKind, meaning: string, example: string): KeyRow => ({
  in: owner,
  key,
  value,
  meaning,
  example,
});
const short = (of: KeyRow): KeyRow => ({ ...of, short: true });
const passing = (of: KeyRow): KeyRow => ({ ...of, passing: true });

export const KEYS: readonly KeyRow[] = [
  row('shop', 'name', 'text', 'The name on reports.', 'Tarn End'),
  row('shop', 'address', 'text', 'The address on reports.', '1 Tarn Lane'),
  row('shop', 'currency', 'currency', 'The currency that we count in.', 'USD'),
  row('shop', 'labour', 'wage', 'What an hour of work costs.', '28.00 USD/h'),
  row(
    'shop',
    'overhead',
    'monthly sum',
    'What a month costs whatever is done: rent, gas, current, insurance. It goes into what a fine gram costs.',
    '450.00 USD/month',
  ),
  row('shop', 'interest', 'share', 'What a year of waiting for money costs, of the sum.', '6 %'),
  row('shop', 'note', 'text', 'A remark.', 'closed on Mondays'),

  short(row('scales', 'division', 'mass', 'The smallest step of the display.', '0.01 g')),
  row('scales', 'capacity', 'mass', 'The largest load.', '600 g'),
  row('scales', 'smallest', 'mass', 'The least load that it is fit for.', '0.2 g'),
  row('scales', 'repeatability', 'mass', 'Standard deviation of repeated readings.', '0.008 g'),
  row('scales', 'error', 'mass', 'The largest error that it is held to, as a half-width.', '0.02 g'),
  row('scales', 'class', 'class', 'Accuracy class on its plate.', 'II'),
  row('scales', 'interval', 'mass', 'Verification interval e on its plate.', '0.1 g'),
  row('scales', 'verified', 'yes or no', 'Whether it bears a valid verification mark.', 'yes'),
  row('scales', 'tracks zero', 'yes or no', 'Whether the display is forced to exactly zero.', 'no'),
  passing(row('scales', 'checked', 'date', 'When it was last checked with a weight.', '2026-05-01')),
  passing(row('scales', 'note', 'text', 'A remark.', 'by the window')),

  short(row('crucibles', 'volume', 'volume', 'Brim-full, cold.', '250 mL')),
  row('crucibles', 'weight', 'mass', 'Its weight when new.', '612 g'),
  row('crucibles', 'material', 'text', 'What it is made of.', 'clay-graphite'),
  passing(row('crucibles', 'heats', 'heats', 'How many heats it usually lasts.', '30')),
  passing(
    row(
      'crucibles',
      'since',
      'date',
      'The day from which its heats count, where an older one bore the name.',
      '2026-05-01',
    ),
  ),
  passing(
    row(
      'crucibles',
      'until',
      'date',
      'The day it was given up; its heats tell how long the next one lasts.',
      '2026-11-20',
    ),
  ),
  passing(row('crucibles', 'note', 'text', 'A remark.', 'for silver only')),

  short(row('moulds', 'volume', 'volume', 'Brim-full.', '120 mL')),
  row('moulds', 'material', 'text', 'What it is made of.', 'cast iron'),
  passing(row('moulds', 'note', 'text', 'A remark.', 'preheat well')),

  short(row('cupels', 'weight', 'mass', 'Its weight before use.', '92 g')),
  row('cupels', 'material', 'text', 'What it is made of.', 'bone-ash'),
  passing(row('cupels', 'note', 'text', 'A remark.', 'dry before use')),

  short(row('furnaces', 'power', 'power', 'Power that goes in.', '3 kW')),
  row('furnaces', 'highest', 'temperature', 'The highest temperature that it is fit for.', '1250 °C'),
  row('furnaces', 'heating', 'heating', 'What it heats with.', 'gas'),
  passing(row('furnaces', 'note', 'text', 'A remark.', 'lining renewed in spring')),

  short(row('containers', 'tare', 'mass and spread', 'Its weight empty and clean.', '38.45 g')),
  passing(row('containers', 'checked', 'date', 'When the tare was last weighed.', '2026-05-01')),
  passing(row('containers', 'note', 'text', 'A remark.', 'dented')),

  short(row('materials', 'from', 'material', 'The built-in material that it starts from.', 'black-sand')),
  row('materials', 'composition', 'composition', 'What it is made of, by mass, before moisture.', 'SiO2: 35..45 %'),
  row('materials', 'moisture', 'share', 'Water in it as it is weighed.', '3 %'),
  row('materials', 'bulk density', 'density', 'As it lies in the crucible.', '2.3 g/mL'),
  passing(row('materials', 'price', 'price', 'What we pay for it.', '4.20 USD/kg')),
  passing(row('materials', 'note', 'text', 'A remark.', 'from the lower beach')),

  short(row('parties', 'role', 'role', 'What they are to us.', 'refiner')),
  row('parties', 'name', 'text', 'The name on documents.', 'Harbour Refiner'),
  passing(row('parties', 'address', 'text', 'The address on documents.', 'Quay 3')),
  row('parties', 'terms', 'terms', 'What was agreed, by the day it holds from.', '2026-01-01:'),
  passing(row('parties', 'note', 'text', 'A remark.', 'ring before ten')),

  row('terms', 'pays', 'payables', 'Share of the fine metal that is paid.', 'Au: 98.5 %'),
  row('terms', 'less', 'cuts', 'Taken off the fine metal first: a share of it, or a weight.', 'Au: 0.3 %'),
  row(
    'terms',
    'keeps',
    'cuts',
    "The least that is kept of a metal: a share of the lot's weight (`2 fine`), or a weight.",
    'Au: 2 fine',
  ),
  row('terms', 'charges', 'charges', 'Charges for work.', 'melting: 45.00 USD'),
  row('terms', 'splitting', 'metals', 'Two assays farther apart than this go to an umpire.', 'Au: 0.15 %'),
  row('terms', 'assay', 'assay rule', 'Whose assay settles: `theirs`, or in `exchange` the mean of both.', 'exchange'),
  row(
    'terms',
    'umpire',
    'umpire rule',
    'What settles after an umpire: the `result`, its mean with the `nearest`, the `middle`.',
    'result',
  ),
  row(
    'terms',
    'exchange days',
    'days',
    "Days from the shipment in which both tell their assays; who misses them is bound by the other's.",
    '45 days',
  ),
  row('terms', 'melt loss', 'share', 'The most that a lot may lose in their melt.', '0.3 %'),
  row('terms', 'minimum', 'mass', 'The least lot that is taken.', '200 g'),
  row('terms', 'days', 'days', 'Days from receipt to payment.', '12 days'),
  row('terms', 'price day', 'price day', 'The day whose price holds.', 'settled'),
  row('terms', 'fixing', 'text', "Which of that day's prices holds, by the name that the quotes give it.", 'afternoon'),
  row('terms', 'rounding', 'rounding', 'How money is rounded to its smallest coin, line by line.', 'half-up'),
  row('terms', 'fine step', 'mass', 'Fine metal is rounded down to a multiple of this.', '0.01 g'),
  row('terms', 'residues', 'keeper', 'Of a customer: who keeps slag, cupels and other residues.', 'owner'),
  passing(row('terms', 'note', 'text', 'A remark.', 'by telephone')),

  row('limits', 'coverage', 'coverage', 'How many standard uncertainties weighing explains.', '2'),
  row('limits', 'fill', 'share range', 'How full a crucible may be, cold.', '67..75 %'),
  row('limits', 'silicate degree', 'degree', 'What slags are to have where a melt does not say.', '1..1.5'),
  row('limits', 'closure', 'share', 'A balance that misses by no more than this share counts as closed.', '0.1 %'),
  row('limits', 'price age', 'days', 'Days after which a written price is old.', '7 days'),
  row('limits', 'usual loss', 'losses', 'By verb, or verb and material: what a step usually loses.', 'melt: 0..0.5 %'),
  row(
    'limits',
    'cusum slack',
    'deviations',
    'What a running sum of losses passes over at each step, in standard deviations of one.',
    '0.5',
  ),
  row('limits', 'cusum limit', 'deviations', 'The running sum that is told, in the same.', '6'),
  row('limits', 'ewma weight', 'share', 'What the newest figure counts in a moving average.', '20 %'),
  row('limits', 'note', 'text', 'A remark.', 'agreed in spring'),

  row('reports', 'heading', 'text', 'What stands above a report.', 'Melt book'),
  row('reports', 'unit', 'mass unit', 'The unit of mass beside grams.', 'ozt'),
  row('reports', 'paper', 'paper', 'Paper size.', 'A4'),
];

const sections = new Map<string, SectionRow>(SECTIONS.map((of) => [of.section, of]));
export const sectionRow = (name: string): SectionRow | undefined => sections.get(name);

const byOwner = new Map<Owner, Map<string, KeyRow>>();
for (const of of KEYS) byOwner.set(of.in, (byOwner.get(of.in) ?? new Map()).set(of.key, of));

/** The keys of an owner by their names. */
export const keysOf = (owner: Owner): ReadonlyMap<string, KeyRow> => byOwner.get(owner) ?? new Map();

/** The key that a one-line form states. */
export const shortKey = (owner: Owner): KeyRow | undefined => [...keysOf(owner).values()].find((of) => of.short);
