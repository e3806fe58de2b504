/** Oxides of a slag: which side each is on, and what a substance leaves of them. */
import { parseFormula } from '../../vocabulary/compounds';

/** Oxygens of an oxide as they count in the silicate degree. */
export interface OxideRow {
  readonly formula: string;
  readonly acid?: number;
  readonly base?: number;
  /** Base in an acid slag, acid in a basic one. */
  readonly either?: number;
}

const bases = (...formulas: string[]): OxideRow[] => formulas.map((formula) => ({ formula, base: 1 }));

/** Oxides of a slag; titania as an acid is from memory. Iron counts as its lower oxide once it is reduced. */
export const OXIDES: ReadonlyMap<string, OxideRow> = new Map(
  [
    { formula: 'SiO2', acid: 2 },
    { formula: 'B2O3', acid: 3 },
    { formula: 'P2O5', acid: 5 },
    { formula: 'TiO2', acid: 2 },
    { formula: 'Al2O3', either: 3 },
    ...bases('Na2O', 'K2O', 'CaO', 'MgO', 'FeO', 'PbO', 'ZnO', 'CuO', 'Cu2O', 'MnO', 'NiO'),
  ].map((row) => [row.formula, row]),
);

/** Which side an oxide is on, and oxygens of a mole that count there; undefined for what is neither. */
export const sideOf = (
  oxide: string,
  aluminaIsBase: boolean,
): { readonly side: 'acid' | 'base'; readonly oxygens: number } | undefined => {
  const row = OXIDES.get(oxide);
  if (row?.acid) return { side: 'acid', oxygens: row.acid };
  if (row?.base) return { side: 'base', oxygens: row.base };
  return row?.either ? { side: aluminaIsBase ? 'base' : 'acid', oxygens: row.either } : undefined;
};

export type Yields = readonly (readonly [string, number])[];

/** Moles of oxide that a mole of a substance leaves in the slag. */
const LEAVES: ReadonlyMap<string, Yields> = new Map<string, Yields>([
  ['Na2CO3', [['Na2O', 1]]],
  ['NaHCO3', [['Na2O', 0.5]]],
  ['NaOH', [['Na2O', 0.5]]],
  ['NaNO3', [['Na2O', 0.5]]],
  ['K2CO3', [['K2O', 1]]],
  ['KNO3', [['K2O', 0.5]]],
  ['KHC4H4O6', [['K2O', 0.5]]],
  [
    'Na2B4O7',
    [
      ['Na2O', 1],
      ['B2O3', 2],
    ],
  ],
  ['H3BO3', [['B2O3', 0.5]]],
  ['CaCO3', [['CaO', 1]]],
  ['Ca(OH)2', [['CaO', 1]]],
  ['MgCO3', [['MgO', 1]]],
  ['Mg(OH)2', [['MgO', 1]]],
  ['Pb3O4', [['PbO', 3]]],
  ['Fe2O3', [['FeO', 2]]],
  ['Fe3O4', [['FeO', 3]]],
  ['FeOOH', [['FeO', 1]]],
  [
    'FeTiO3',
    [
      ['FeO', 1],
      ['TiO2', 1],
    ],
  ],
  ['MnO2', [['MnO', 1]]],
  [
    'Ca3(PO4)2',
    [
      ['CaO', 3],
      ['P2O5', 1],
    ],
  ],
]);

/** `Na2B4O7·10H2O` without its water. */
export function withoutWater(formula: string): string {
  const dot = Math.max(...[...'·•.*'].map((mark) => formula.lastIndexOf(mark)));
  return dot > 0 && formula.endsWith('H2O') ? formula.slice(0, dot) : formula;
}

export function yieldsOf(what: string): Yields {
  if (!parseFormula(what)) return [];
  const dry = withoutWater(what);
  return LEAVES.get(dry) ?? (OXIDES.has(dry) ? [[dry, 1]] : []);
}
