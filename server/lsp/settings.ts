/** What a user may set. Anything odd in it counts as not set: a slip in a settings file never stops the language. */
import { HINT_LEVELS, type HintFamily, type WantedHints } from '../features/hints';
import { LENS_FAMILIES, type LensFamily } from '../features/lenses';

/** One switch each. The compiler asks for every family. */
const SWITCHES: Readonly<Record<HintFamily, true>> = {
  receive: true,
  dry: true,
  melt: true,
  cupel: true,
  handover: true,
  step: true,
  fine: true,
  bench: true,
  selling: true,
  plan: true,
  caution: true,
};

export const HINT_FAMILIES = Object.keys(SWITCHES) as readonly HintFamily[];

export const GRADES = ['off', 'hint', 'information', 'warning', 'error'] as const;
export type Grade = (typeof GRADES)[number];

export interface Settings {
  readonly hints: WantedHints;
  /** Lenses over entries that are to be shown. */
  readonly lenses: ReadonlySet<LensFamily>;
  /** Column at which formatting puts decimal points, counted from 1; none where it lines nothing up. */
  readonly pointAtColumn: number | undefined;
  /** By rule code; what is not named keeps the rule's own severity. */
  readonly severity: ReadonlyMap<string, Grade>;
  /** Findings come when a page is saved. */
  readonly checksOnSave: boolean;
}

export const DEFAULT_SETTINGS: Settings = {
  hints: new Set(HINT_FAMILIES),
  lenses: new Set(),
  pointAtColumn: undefined,
  severity: new Map(),
  checksOnSave: false,
};

/** Reads the `fineweight` section as a client sends it. */
export const readSettings = (section: unknown): Settings => {
  const [hints, lenses] = ['hints', 'lenses'].map((name) => fieldOf(section, name));
  const hasLenses = fieldOf(lenses, 'enabled') === true;
  return {
    hints: readHints(hints),
    lenses: new Set(LENS_FAMILIES.filter((family) => hasLenses && fieldOf(lenses, family) !== false)),
    pointAtColumn: readColumn(fieldOf(fieldOf(section, 'format'), 'pointAtColumn')),
    severity: readSeverity(fieldOf(section, 'severity')),
    checksOnSave: fieldOf(section, 'check') === 'save',
  };
};

const readHints = (hints: unknown): WantedHints => {
  const wanted = HINT_FAMILIES.filter(
    (family) => fieldOf(hints, 'enabled') !== false && fieldOf(hints, family) !== false,
  );
  const families: ReadonlySet<HintFamily> = new Set(wanted);
  const level = HINT_LEVELS.find((one) => one === fieldOf(hints, 'level')) ?? 'all';
  return { has: (family) => families.has(family), level };
};

const WIDEST_COLUMN = 120;

/** None for nought, and for what is no column. */
const readColumn = (value: unknown): number | undefined =>
  Number.isInteger(value) && Number(value) > 0 ? Math.min(Number(value), WIDEST_COLUMN) : undefined;

const readSeverity = (value: unknown): ReadonlyMap<string, Grade> => {
  const severity = new Map<string, Grade>();
  for (const [code, grade] of Object.entries(isRecord(value) ? value : {})) {
    const known = GRADES.find((one) => one === grade);
    if (known) severity.set(code, known);
  }
  return severity;
};

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A field of an object that came from outside; undefined when there is no such field, or no object. */
export const fieldOf = (value: unknown, name: string): unknown =>
  isRecord(value) && Object.hasOwn(value, name) ? value[name] : undefined;
