/** The chemical elements: symbols that a reading may use, with weights, densities and melting points where known. */

/** A figure and where it was read. */
export interface Sourced {
  readonly value: number;
  readonly source: string;
}

export interface ElementRow {
  readonly symbol: string;
  readonly name: string;
  /** Atomic number. */
  readonly number: number;
  /** Standard atomic weight, g/mol. Lead varies with its origin: 207.2 ±0.1. */
  readonly weight?: Sourced;
  /** Density near 20 °C, g/cm3. */
  readonly density?: Sourced;
  /** Melting point at 1 atm, °C. */
  readonly meltsAtC?: Sourced;
  /** Boiling point at 1 atm, °C. */
  readonly boilsAtC?: Sourced;
}

/** The row of a symbol, compared exactly (`Co` is cobalt, `CO` is none). */
export function element(symbol: string): ElementRow | undefined {
  return BY_SYMBOL.get(symbol);
}

const iupac = (value: number): Sourced => ({ value, source: 'IUPAC, in the Blue Obelisk element data' });
const recalled = (value: number): Sourced => ({ value, source: 'from memory' });
const table = (value: number): Sourced => ({ value, source: 'element table of periodictable 1.6.0' });
const its90 = (value: number): Sourced => ({ value, source: 'ITS-90 fixed points' });

/** All 118 elements, by atomic number. A weight stands where a formula of the trade may need it. */
export const ELEMENTS: readonly ElementRow[] = [
  { symbol: 'H', name: 'hydrogen', number: 1, weight: iupac(1.008) },
  { symbol: 'He', name: 'helium', number: 2 },
  { symbol: 'Li', name: 'lithium', number: 3, weight: recalled(6.94) },
  { symbol: 'Be', name: 'beryllium', number: 4, weight: recalled(9.0121831) },
  { symbol: 'B', name: 'boron', number: 5, weight: iupac(10.81) },
  { symbol: 'C', name: 'carbon', number: 6, weight: iupac(12.011) },
  { symbol: 'N', name: 'nitrogen', number: 7, weight: iupac(14.007) },
  { symbol: 'O', name: 'oxygen', number: 8, weight: iupac(15.999) },
  { symbol: 'F', name: 'fluorine', number: 9, weight: iupac(18.9984032) },
  { symbol: 'Ne', name: 'neon', number: 10 },
  { symbol: 'Na', name: 'sodium', number: 11, weight: iupac(22.98976928) },
  { symbol: 'Mg', name: 'magnesium', number: 12, weight: recalled(24.305) },
  { symbol: 'Al', name: 'aluminium', number: 13, weight: recalled(26.9815384), meltsAtC: its90(660.323) },
  { symbol: 'Si', name: 'silicon', number: 14, weight: iupac(28.085) },
  { symbol: 'P', name: 'phosphorus', number: 15, weight: recalled(30.973762) },
  { symbol: 'S', name: 'sulphur', number: 16, weight: iupac(32.06) },
  { symbol: 'Cl', name: 'chlorine', number: 17, weight: iupac(35.45) },
  { symbol: 'Ar', name: 'argon', number: 18 },
  { symbol: 'K', name: 'potassium', number: 19, weight: iupac(39.0983) },
  { symbol: 'Ca', name: 'calcium', number: 20, weight: iupac(40.078) },
  { symbol: 'Sc', name: 'scandium', number: 21 },
  { symbol: 'Ti', name: 'titanium', number: 22, weight: recalled(47.867) },
  { symbol: 'V', name: 'vanadium', number: 23, weight: recalled(50.9415) },
  { symbol: 'Cr', name: 'chromium', number: 24, weight: recalled(51.9961) },
  { symbol: 'Mn', name: 'manganese', number: 25, weight: recalled(54.938043) },
  { symbol: 'Fe', name: 'iron', number: 26, weight: iupac(55.845), density: table(7.874), meltsAtC: recalled(1538) },
  { symbol: 'Co', name: 'cobalt', number: 27, weight: recalled(58.933194) },
  { symbol: 'Ni', name: 'nickel', number: 28, weight: iupac(58.6934), density: table(8.902), meltsAtC: recalled(1455) },
  { symbol: 'Cu', name: 'copper', number: 29, weight: iupac(63.546), density: table(8.96), meltsAtC: its90(1084.62) },
  {
    symbol: 'Zn',
    name: 'zinc',
    number: 30,
    weight: iupac(65.38),
    density: table(7.133),
    meltsAtC: its90(419.527),
    boilsAtC: recalled(907),
  },
  { symbol: 'Ga', name: 'gallium', number: 31, weight: recalled(69.723) },
  { symbol: 'Ge', name: 'germanium', number: 32, weight: recalled(72.63) },
  { symbol: 'As', name: 'arsenic', number: 33, weight: iupac(74.9216) },
  { symbol: 'Se', name: 'selenium', number: 34, weight: recalled(78.971) },
  { symbol: 'Br', name: 'bromine', number: 35, weight: recalled(79.904) },
  { symbol: 'Kr', name: 'krypton', number: 36 },
  { symbol: 'Rb', name: 'rubidium', number: 37 },
  { symbol: 'Sr', name: 'strontium', number: 38, weight: recalled(87.62) },
  { symbol: 'Y', name: 'yttrium', number: 39 },
  { symbol: 'Zr', name: 'zirconium', number: 40, weight: recalled(91.224) },
  { symbol: 'Nb', name: 'niobium', number: 41, weight: recalled(92.90637) },
  { symbol: 'Mo', name: 'molybdenum', number: 42, weight: recalled(95.95) },
  { symbol: 'Tc', name: 'technetium', number: 43 },
  { symbol: 'Ru', name: 'ruthenium', number: 44, weight: recalled(101.07) },
  { symbol: 'Rh', name: 'rhodium', number: 45, weight: recalled(102.90549) },
  {
    symbol: 'Pd',
    name: 'palladium',
    number: 46,
    weight: recalled(106.42),
    density: table(12.02),
    meltsAtC: recalled(1555),
  },
  { symbol: 'Ag', name: 'silver', number: 47, weight: iupac(107.8682), density: table(10.5), meltsAtC: its90(961.78) },
  { symbol: 'Cd', name: 'cadmium', number: 48, weight: iupac(112.411), density: table(8.65), boilsAtC: recalled(767) },
  { symbol: 'In', name: 'indium', number: 49, weight: recalled(114.818) },
  { symbol: 'Sn', name: 'tin', number: 50, weight: iupac(118.71), density: table(7.31), meltsAtC: its90(231.928) },
  {
    symbol: 'Sb',
    name: 'antimony',
    number: 51,
    weight: iupac(121.76),
    density: table(6.691),
    meltsAtC: recalled(630.6),
  },
  { symbol: 'Te', name: 'tellurium', number: 52, weight: iupac(127.6) },
  { symbol: 'I', name: 'iodine', number: 53, weight: recalled(126.90447) },
  { symbol: 'Xe', name: 'xenon', number: 54 },
  { symbol: 'Cs', name: 'caesium', number: 55 },
  { symbol: 'Ba', name: 'barium', number: 56, weight: recalled(137.327) },
  { symbol: 'La', name: 'lanthanum', number: 57 },
  { symbol: 'Ce', name: 'cerium', number: 58, weight: recalled(140.116) },
  { symbol: 'Pr', name: 'praseodymium', number: 59 },
  { symbol: 'Nd', name: 'neodymium', number: 60 },
  { symbol: 'Pm', name: 'promethium', number: 61 },
  { symbol: 'Sm', name: 'samarium', number: 62 },
  { symbol: 'Eu', name: 'europium', number: 63 },
  { symbol: 'Gd', name: 'gadolinium', number: 64 },
  { symbol: 'Tb', name: 'terbium', number: 65 },
  { symbol: 'Dy', name: 'dysprosium', number: 66 },
  { symbol: 'Ho', name: 'holmium', number: 67 },
  { symbol: 'Er', name: 'erbium', number: 68 },
  { symbol: 'Tm', name: 'thulium', number: 69 },
  { symbol: 'Yb', name: 'ytterbium', number: 70 },
  { symbol: 'Lu', name: 'lutetium', number: 71 },
  { symbol: 'Hf', name: 'hafnium', number: 72 },
  { symbol: 'Ta', name: 'tantalum', number: 73, weight: recalled(180.94788) },
  { symbol: 'W', name: 'tungsten', number: 74, weight: recalled(183.84) },
  { symbol: 'Re', name: 'rhenium', number: 75, weight: recalled(186.207) },
  { symbol: 'Os', name: 'osmium', number: 76, weight: recalled(190.23) },
  { symbol: 'Ir', name: 'iridium', number: 77, weight: recalled(192.217) },
  {
    symbol: 'Pt',
    name: 'platinum',
    number: 78,
    weight: iupac(195.084),
    density: table(21.45),
    meltsAtC: recalled(1768),
  },
  { symbol: 'Au', name: 'gold', number: 79, weight: iupac(196.966569), density: table(19.3), meltsAtC: its90(1064.18) },
  {
    symbol: 'Hg',
    name: 'mercury',
    number: 80,
    weight: iupac(200.592),
    density: table(13.546),
    boilsAtC: recalled(356.6),
  },
  { symbol: 'Tl', name: 'thallium', number: 81, weight: recalled(204.38) },
  { symbol: 'Pb', name: 'lead', number: 82, weight: iupac(207.2), density: table(11.35), meltsAtC: recalled(327.5) },
  {
    symbol: 'Bi',
    name: 'bismuth',
    number: 83,
    weight: iupac(208.9804),
    density: table(9.747),
    meltsAtC: recalled(271.4),
  },
  { symbol: 'Po', name: 'polonium', number: 84 },
  { symbol: 'At', name: 'astatine', number: 85 },
  { symbol: 'Rn', name: 'radon', number: 86 },
  { symbol: 'Fr', name: 'francium', number: 87 },
  { symbol: 'Ra', name: 'radium', number: 88 },
  { symbol: 'Ac', name: 'actinium', number: 89 },
  { symbol: 'Th', name: 'thorium', number: 90, weight: recalled(232.0377) },
  { symbol: 'Pa', name: 'protactinium', number: 91 },
  { symbol: 'U', name: 'uranium', number: 92, weight: recalled(238.02891) },
  { symbol: 'Np', name: 'neptunium', number: 93 },
  { symbol: 'Pu', name: 'plutonium', number: 94 },
  { symbol: 'Am', name: 'americium', number: 95 },
  { symbol: 'Cm', name: 'curium', number: 96 },
  { symbol: 'Bk', name: 'berkelium', number: 97 },
  { symbol: 'Cf', name: 'californium', number: 98 },
  { symbol: 'Es', name: 'einsteinium', number: 99 },
  { symbol: 'Fm', name: 'fermium', number: 100 },
  { symbol: 'Md', name: 'mendelevium', number: 101 },
  { symbol: 'No', name: 'nobelium', number: 102 },
  { symbol: 'Lr', name: 'lawrencium', number: 103 },
  { symbol: 'Rf', name: 'rutherfordium', number: 104 },
  { symbol: 'Db', name: 'dubnium', number: 105 },
  { symbol: 'Sg', name: 'seaborgium', number: 106 },
  { symbol: 'Bh', name: 'bohrium', number: 107 },
  { symbol: 'Hs', name: 'hassium', number: 108 },
  { symbol: 'Mt', name: 'meitnerium', number: 109 },
  { symbol: 'Ds', name: 'darmstadtium', number: 110 },
  { symbol: 'Rg', name: 'roentgenium', number: 111 },
  { symbol: 'Cn', name: 'copernicium', number: 112 },
  { symbol: 'Nh', name: 'nihonium', number: 113 },
  { symbol: 'Fl', name: 'flerovium', number: 114 },
  { symbol: 'Mc', name: 'moscovium', number: 115 },
  { symbol: 'Lv', name: 'livermorium', number: 116 },
  { symbol: 'Ts', name: 'tennessine', number: 117 },
  { symbol: 'Og', name: 'oganesson', number: 118 },
];

const BY_SYMBOL: ReadonlyMap<string, ElementRow> = new Map(ELEMENTS.map((row) => [row.symbol, row]));
