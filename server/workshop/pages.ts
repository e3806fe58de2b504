/** What each finding in a workshop file means: for the reference, for hover and for the command line. Each example is run by a test. */

export type WorkshopCode =
  | 'workshop-unreadable'
  | 'workshop-unknown-key'
  | 'workshop-wrong-value'
  | 'workshop-missing-unit'
  | 'workshop-which-unit'
  | 'workshop-name-twice'
  | 'workshop-odd-name'
  | 'workshop-unknown-material'
  | 'workshop-above-whole';

export interface WorkshopPage {
  readonly code: WorkshopCode;
  readonly severity: 'error' | 'warning';
  /** The matter in a few trade words. */
  readonly title: string;
  /** Why it matters, and what to do. */
  readonly why: string;
  /** A workshop file that shows it once. */
  readonly wrong: string;
  /** The same file mended. */
  readonly right: string;
}

export const WORKSHOP_PAGES: readonly WorkshopPage[] = [
  {
    code: 'workshop-unreadable',
    severity: 'error',
    title: 'a workshop file that cannot be read',
    why: 'The file is YAML: sections, names and keys, each with a colon and a blank, indented by spaces. Anchors, aliases and tags are refused: each value stands where it belongs, so that what is read is what is written.',
    wrong: 'scales:\n  bench 0.01 g\n  fine: 0.001 g',
    right: 'scales:\n  bench: 0.01 g\n  fine: 0.001 g',
  },
  {
    code: 'workshop-unknown-key',
    severity: 'warning',
    title: 'a section or key that there is not',
    why: 'What stands under it is not used. Most often a letter is wrong.',
    wrong: 'scales:\n  bench:\n    divison: 0.01 g',
    right: 'scales:\n  bench:\n    division: 0.01 g',
  },
  {
    code: 'workshop-wrong-value',
    severity: 'error',
    title: 'a value that cannot stand there',
    why: 'The value is of another kind, or out of all sense. It is not used; the rest of the file is.',
    wrong: 'crucibles:\n  C4: 250 g',
    right: 'crucibles:\n  C4: 250 mL',
  },
  {
    code: 'workshop-missing-unit',
    severity: 'error',
    title: 'a figure without its unit',
    why: 'A bare number cannot be weighed against another.',
    wrong: 'containers:\n  tray-2: 38.45',
    right: 'containers:\n  tray-2: 38.45 g',
  },
  {
    code: 'workshop-which-unit',
    severity: 'warning',
    title: 'grains where grams may be meant',
    why: '`gr` is the grain of 0.06479891 g, fifteen times less than a gram. If it is meant, write the weight in grams and this is quiet.',
    wrong: 'containers:\n  tray-2: 38.45 gr',
    right: 'containers:\n  tray-2: 38.45 g',
  },
  {
    code: 'workshop-name-twice',
    severity: 'error',
    title: 'a name or key given twice',
    why: 'Only the first counts. Two trays of one name would give two tares for one weighing.',
    wrong: 'containers:\n  tray-2: 38.45 g\n  tray-2: 18.20 g',
    right: 'containers:\n  tray-2: 38.45 g\n  tray-3: 18.20 g',
  },
  {
    code: 'workshop-odd-name',
    severity: 'warning',
    title: 'a name that the journal reads as something else',
    why: 'A name is letters, digits, `-` `_` `.` `/`, at least one letter, and does not read as an amount. Any other stands in quotes, here and in the journal.',
    wrong: 'crucibles:\n  C 4: 250 mL',
    right: 'crucibles:\n  C4: 250 mL',
  },
  {
    code: 'workshop-unknown-material',
    severity: 'error',
    title: 'a material that nobody knows',
    why: 'What it is made of is not known, so neither slag nor gas can be computed. Name a built-in material, or define it under `materials`.',
    wrong: 'recipes:\n  shop-flux: { borax-glass: 2 parts, soda-ahs: 1 part }',
    right: 'recipes:\n  shop-flux: { borax-glass: 2 parts, soda-ash: 1 part }',
  },
  {
    code: 'workshop-above-whole',
    severity: 'error',
    title: 'shares that come to more than the whole',
    why: 'A composition, a recipe in per cent or a share cannot pass 100 %. It is not used until it is mended.',
    wrong: 'recipes:\n  cover: { borax-glass: 70 %, boric-acid: 40 % }',
    right: 'recipes:\n  cover: { borax-glass: 70 %, boric-acid: 30 % }',
  },
];

const severities = new Map(WORKSHOP_PAGES.map((page) => [page.code, page.severity]));
export const severityOf = (code: WorkshopCode): 'error' | 'warning' => severities.get(code) ?? 'error';
