/**
 * What each section and key of the workshop file means. Apart from `keys.ts`, as no file is checked by it: hover, completion and the reference's
 * tables ask, and a browser fetches it with them when a hand does.
 */
import type { KeyRow, Owner, SectionName } from './keys';

export const SECTION_MEANINGS: Readonly<Record<SectionName, string>> = {
  shop: 'Who we are.',
  scales: 'What we weigh on, named after `on`.',
  measures: "The shop's own measures; an amount in them is a guess.",
  crucibles: 'What we melt in.',
  moulds: 'What we pour into.',
  cupels: 'What we cupel on.',
  furnaces: 'What heats.',
  containers: 'Trays, dishes and bags with a known tare.',
  materials: "The shop's own materials, or built-in ones as the shop has them.",
  recipes: 'Mixtures by mass, expanded where they are added.',
  parties: 'Whom we deal with.',
  hands: 'Who works here, by the initials behind `hand` and `witness`.',
  limits: 'What counts as too much.',
  reports: 'How reports are laid out.',
};

const KEY_MEANINGS: Readonly<Partial<Record<Owner, Readonly<Record<string, string>>>>> = {
  shop: {
    name: 'The name on reports.',
    address: 'The address on reports.',
    currency: 'The currency that we count in.',
    labour: 'What an hour of work costs.',
    overhead:
      'What a month costs whatever is done: rent, gas, current, insurance. It goes into what a fine gram costs.',
    interest: 'What a year of waiting for money costs, of the sum.',
    note: 'A remark.',
  },
  scales: {
    division: 'The smallest step of the display.',
    capacity: 'The largest load.',
    smallest: 'The least load that it is fit for.',
    repeatability: 'Standard deviation of repeated readings.',
    error: 'The largest error that it is held to, as a half-width.',
    class: 'Accuracy class on its plate.',
    interval: 'Verification interval e on its plate.',
    verified: 'Whether it bears a valid verification mark.',
    'tracks zero': 'Whether the display is forced to exactly zero.',
    checked: 'When it was last checked with a weight.',
    note: 'A remark.',
  },
  crucibles: {
    volume: 'Brim-full, cold.',
    weight: 'Its weight when new.',
    material: 'What it is made of.',
    heats: 'How many heats it usually lasts.',
    since: 'The day from which its heats count, where an older one bore the name.',
    until: 'The day it was given up; its heats tell how long the next one lasts.',
    note: 'A remark.',
  },
  moulds: {
    volume: 'Brim-full.',
    material: 'What it is made of.',
    note: 'A remark.',
  },
  cupels: {
    weight: 'Its weight before use.',
    material: 'What it is made of.',
    note: 'A remark.',
  },
  furnaces: {
    power: 'Power that goes in.',
    highest: 'The highest temperature that it is fit for.',
    heating: 'What it heats with.',
    note: 'A remark.',
  },
  containers: {
    tare: 'Its weight empty and clean.',
    checked: 'When the tare was last weighed.',
    note: 'A remark.',
  },
  materials: {
    from: 'The built-in material that it starts from.',
    composition: 'What it is made of, by mass, before moisture.',
    moisture: 'Water in it as it is weighed.',
    'bulk density': 'As it lies in the crucible.',
    price: 'What we pay for it.',
    note: 'A remark.',
  },
  parties: {
    role: 'What they are to us.',
    name: 'The name on documents.',
    address: 'The address on documents.',
    terms: 'What was agreed, by the day it holds from.',
    note: 'A remark.',
  },
  terms: {
    pays: 'Share of the fine metal that is paid.',
    less: 'Taken off the fine metal first: a share of it, or a weight.',
    keeps: "The least that is kept of a metal: a share of the lot's weight (`2 fine`), or a weight.",
    charges: 'Charges for work.',
    splitting: 'Two assays farther apart than this go to an umpire.',
    assay: 'Whose assay settles: `theirs`, or in `exchange` the mean of both.',
    umpire: 'What settles after an umpire: the `result`, its mean with the `nearest`, the `middle`.',
    'exchange days': "Days from the shipment in which both tell their assays; who misses them is bound by the other's.",
    'melt loss': 'The most that a lot may lose in their melt.',
    minimum: 'The least lot that is taken.',
    days: 'Days from receipt to payment.',
    'price day': 'The day whose price holds.',
    fixing: "Which of that day's prices holds, by the name that the quotes give it.",
    rounding: 'How money is rounded to its smallest coin, line by line.',
    'fine step': 'Fine metal is rounded down to a multiple of this.',
    residues: 'Of a customer: who keeps slag, cupels and other residues.',
    note: 'A remark.',
  },
  limits: {
    coverage: 'How many standard uncertainties weighing explains.',
    fill: 'How full a crucible may be, cold.',
    'silicate degree': 'What slags are to have where a melt does not say.',
    closure: 'A balance that misses by no more than this share counts as closed.',
    'price age': 'Days after which a written price is old.',
    'usual loss': 'By verb, or verb and material: what a step usually loses.',
    'cusum slack': 'What a running sum of losses passes over at each step, in standard deviations of one.',
    'cusum limit': 'The running sum that is told, in the same.',
    'ewma weight': 'What the newest figure counts in a moving average.',
    note: 'A remark.',
  },
  reports: {
    heading: 'What stands above a report.',
    unit: 'The unit of mass beside grams.',
    paper: 'Paper size.',
  },
};

export const meaningOf = ({ in: owner, key }: KeyRow): string => KEY_MEANINGS[owner]?.[key] ?? '';
