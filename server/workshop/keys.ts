/**
 * Every section and key of the workshop file as data: what may stand there, an example. Checks, completion, hover and the reference's tables are
 * made from it. What each means stands in `key-meanings.ts`, as no check asks for it.
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
  slack: { says: 'a number from 0.1 to 2', example: '0.5' },
  deviations: { says: 'a number from 0.1 to 20', example: '6' },
  'newest share': { says: 'a share from 1 % to 100 %', example: '20 %' },
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
  readonly example: string;
}

/** Where a key may stand: in a section, in a thing of a section, or in dated terms. */
export type Owner = SectionName | 'terms';

export interface KeyRow {
  readonly in: Owner;
  readonly key: string;
  readonly value: ValueKind;
  readonly example: string;
  /** May be left out: `bench: 0.01 g` says the division. */
  readonly short?: true;
  /** Changes from day to day, or is a remark: no weight, metal or money of the record rests on it, and a seal leaves it out. */
  readonly passing?: true;
}

const section = (name: SectionName, holds: SectionRow['holds'], example: string): SectionRow => ({
  section: name,
  holds,
  example,
});

export const SECTIONS: readonly SectionRow[] = [
  section('shop', 'keys', 'name: Tarn End'),
  section('scales', 'things', 'bench: 0.01 g'),
  section('measures', 'mass', 'spoon: 14 g'),
  section('crucibles', 'things', 'C4: 250 mL'),
  section('moulds', 'things', 'cone-1: 120 mL'),
  section('cupels', 'things', 'cement-3: 92 g'),
  section('furnaces', 'things', 'F1: 3 kW'),
  section('containers', 'things', 'tray-2: 38.45 g'),
  section('materials', 'things', 'beach-sand: black-sand'),
  section('recipes', 'parts', 'borax-glass: 2 parts'),
  section('parties', 'things', 'harbour-refiner: refiner'),
  section('hands', 'text', 'AB: A. Beck'),
  section('limits', 'keys', 'fill: 67..75 %'),
  section('reports', 'keys', 'paper: A4'),
];

const row = (owner: Owner, key: string, value: ValueKind, example: string): KeyRow => ({
  in: owner,
  key,
  value,
  example,
});
const short = (of: KeyRow): KeyRow => ({ ...of, short: true });
const passing = (of: KeyRow): KeyRow => ({ ...of, passing: true });

export const KEYS: readonly KeyRow[] = [
  row('shop', 'name', 'text', 'Tarn End'),
  row('shop', 'address', 'text', '1 Tarn Lane'),
  row('shop', 'currency', 'currency', 'USD'),
  row('shop', 'labour', 'wage', '28.00 USD/h'),
  row('shop', 'overhead', 'monthly sum', '450.00 USD/month'),
  row('shop', 'interest', 'share', '6 %'),
  row('shop', 'note', 'text', 'closed on Mondays'),

  short(row('scales', 'division', 'mass', '0.01 g')),
  row('scales', 'capacity', 'mass', '600 g'),
  row('scales', 'smallest', 'mass', '0.2 g'),
  row('scales', 'repeatability', 'mass', '0.008 g'),
  row('scales', 'error', 'mass', '0.02 g'),
  row('scales', 'class', 'class', 'II'),
  row('scales', 'interval', 'mass', '0.1 g'),
  row('scales', 'verified', 'yes or no', 'yes'),
  row('scales', 'tracks zero', 'yes or no', 'no'),
  passing(row('scales', 'checked', 'date', '2026-05-01')),
  passing(row('scales', 'note', 'text', 'by the window')),

  short(row('crucibles', 'volume', 'volume', '250 mL')),
  row('crucibles', 'weight', 'mass', '612 g'),
  row('crucibles', 'material', 'text', 'clay-graphite'),
  passing(row('crucibles', 'heats', 'heats', '30')),
  passing(row('crucibles', 'since', 'date', '2026-05-01')),
  passing(row('crucibles', 'until', 'date', '2026-11-20')),
  passing(row('crucibles', 'note', 'text', 'for silver only')),

  short(row('moulds', 'volume', 'volume', '120 mL')),
  row('moulds', 'material', 'text', 'cast iron'),
  passing(row('moulds', 'note', 'text', 'preheat well')),

  short(row('cupels', 'weight', 'mass', '92 g')),
  row('cupels', 'material', 'text', 'bone-ash'),
  passing(row('cupels', 'note', 'text', 'dry before use')),

  short(row('furnaces', 'power', 'power', '3 kW')),
  row('furnaces', 'highest', 'temperature', '1250 °C'),
  row('furnaces', 'heating', 'heating', 'gas'),
  passing(row('furnaces', 'note', 'text', 'lining renewed in spring')),

  short(row('containers', 'tare', 'mass and spread', '38.45 g')),
  passing(row('containers', 'checked', 'date', '2026-05-01')),
  passing(row('containers', 'note', 'text', 'dented')),

  short(row('materials', 'from', 'material', 'black-sand')),
  row('materials', 'composition', 'composition', 'SiO2: 35..45 %'),
  row('materials', 'moisture', 'share', '3 %'),
  row('materials', 'bulk density', 'density', '2.3 g/mL'),
  passing(row('materials', 'price', 'price', '4.20 USD/kg')),
  passing(row('materials', 'note', 'text', 'from the lower beach')),

  short(row('parties', 'role', 'role', 'refiner')),
  row('parties', 'name', 'text', 'Harbour Refiner'),
  passing(row('parties', 'address', 'text', 'Quay 3')),
  row('parties', 'terms', 'terms', '2026-01-01:'),
  passing(row('parties', 'note', 'text', 'ring before ten')),

  row('terms', 'pays', 'payables', 'Au: 98.5 %'),
  row('terms', 'less', 'cuts', 'Au: 0.3 %'),
  row('terms', 'keeps', 'cuts', 'Au: 2 fine'),
  row('terms', 'charges', 'charges', 'melting: 45.00 USD'),
  row('terms', 'splitting', 'metals', 'Au: 0.15 %'),
  row('terms', 'assay', 'assay rule', 'exchange'),
  row('terms', 'umpire', 'umpire rule', 'result'),
  row('terms', 'exchange days', 'days', '45 days'),
  row('terms', 'melt loss', 'share', '0.3 %'),
  row('terms', 'minimum', 'mass', '200 g'),
  row('terms', 'days', 'days', '12 days'),
  row('terms', 'price day', 'price day', 'settled'),
  row('terms', 'fixing', 'text', 'afternoon'),
  row('terms', 'rounding', 'rounding', 'half-up'),
  row('terms', 'fine step', 'mass', '0.01 g'),
  row('terms', 'residues', 'keeper', 'owner'),
  passing(row('terms', 'note', 'text', 'by telephone')),

  row('limits', 'coverage', 'coverage', '2'),
  row('limits', 'fill', 'share range', '67..75 %'),
  row('limits', 'silicate degree', 'degree', '1..1.5'),
  row('limits', 'closure', 'share', '0.1 %'),
  row('limits', 'price age', 'days', '7 days'),
  row('limits', 'usual loss', 'losses', 'melt: 0..0.5 %'),
  row('limits', 'cusum slack', 'slack', '0.5'),
  row('limits', 'cusum limit', 'deviations', '6'),
  row('limits', 'ewma weight', 'newest share', '20 %'),
  row('limits', 'note', 'text', 'agreed in spring'),

  row('reports', 'heading', 'text', 'Melt book'),
  row('reports', 'unit', 'mass unit', 'ozt'),
  row('reports', 'paper', 'paper', 'A4'),
];

const sections = new Map<string, SectionRow>(SECTIONS.map((of) => [of.section, of]));
export const sectionRow = (name: string): SectionRow | undefined => sections.get(name);

const byOwner = new Map<Owner, Map<string, KeyRow>>();
for (const of of KEYS) byOwner.set(of.in, (byOwner.get(of.in) ?? new Map()).set(of.key, of));

/** The keys of an owner by their names. */
export const keysOf = (owner: Owner): ReadonlyMap<string, KeyRow> => byOwner.get(owner) ?? new Map();

/** The key that a one-line form states. */
export const shortKey = (owner: Owner): KeyRow | undefined => [...keysOf(owner).values()].find((of) => of.short);
