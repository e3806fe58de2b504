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

type Known = Pick<ElementRow, 'weight' | 'density' | 'meltsAtC' | 'boilsAtC'>;

const row = (symbol: string, name: string, known: Known = {}) => ({ symbol, name, ...known });

/** All 118 elements, by atomic number. A weight stands where a formula of the trade may need it. */
export const ELEMENTS: readonly ElementRow[] = [
  row('H', 'hydrogen', { weight: iupac(1.008) }),
  row('He', 'helium'),
  row('Li', 'lithium', { weight: recalled(6.94) }),
  row('Be', 'beryllium', { weight: recalled(9.0121831) }),
  row('B', 'boron', { weight: iupac(10.81) }),
  row('C', 'carbon', { weight: iupac(12.011) }),
  row('N', 'nitrogen', { weight: iupac(14.007) }),
  row('O', 'oxygen', { weight: iupac(15.999) }),
  row('F', 'fluorine', { weight: iupac(18.9984032) }),
  row('Ne', 'neon'),
  row('Na', 'sodium', { weight: iupac(22.98976928) }),
  row('Mg', 'magnesium', { weight: recalled(24.305) }),
  row('Al', 'aluminium', { weight: recalled(26.9815384), meltsAtC: its90(660.323) }),
  row('Si', 'silicon', { weight: iupac(28.085) }),
  row('P', 'phosphorus', { weight: recalled(30.973762) }),
  row('S', 'sulphur', { weight: iupac(32.06) }),
  row('Cl', 'chlorine', { weight: iupac(35.45) }),
  row('Ar', 'argon'),
  row('K', 'potassium', { weight: iupac(39.0983) }),
  row('Ca', 'calcium', { weight: iupac(40.078) }),
  row('Sc', 'scandium'),
  row('Ti', 'titanium', { weight: recalled(47.867) }),
  row('V', 'vanadium', { weight: recalled(50.9415) }),
  row('Cr', 'chromium', { weight: recalled(51.9961) }),
  row('Mn', 'manganese', { weight: recalled(54.938043) }),
  row('Fe', 'iron', { weight: iupac(55.845), density: table(7.874), meltsAtC: recalled(1538) }),
  row('Co', 'cobalt', { weight: recalled(58.933194) }),
  row('Ni', 'nickel', { weight: iupac(58.6934), density: table(8.902), meltsAtC: recalled(1455) }),
  row('Cu', 'copper', { weight: iupac(63.546), density: table(8.96), meltsAtC: its90(1084.62) }),
  row('Zn', 'zinc', { weight: iupac(65.38), density: table(7.133), meltsAtC: its90(419.527), boilsAtC: recalled(907) }),
  row('Ga', 'gallium', { weight: recalled(69.723) }),
  row('Ge', 'germanium', { weight: recalled(72.63) }),
  row('As', 'arsenic', { weight: iupac(74.9216) }),
  row('Se', 'selenium', { weight: recalled(78.971) }),
  row('Br', 'bromine', { weight: recalled(79.904) }),
  row('Kr', 'krypton'),
  row('Rb', 'rubidium'),
  row('Sr', 'strontium', { weight: recalled(87.62) }),
  row('Y', 'yttrium'),
  row('Zr', 'zirconium', { weight: recalled(91.224) }),
  row('Nb', 'niobium', { weight: recalled(92.90637) }),
  row('Mo', 'molybdenum', { weight: recalled(95.95) }),
  row('Tc', 'technetium'),
  row('Ru', 'ruthenium', { weight: recalled(101.07) }),
  row('Rh', 'rhodium', { weight: recalled(102.90549) }),
  row('Pd', 'palladium', { weight: recalled(106.42), density: table(12.02), meltsAtC: recalled(1555) }),
  row('Ag', 'silver', { weight: iupac(107.8682), density: table(10.5), meltsAtC: its90(961.78) }),
  row('Cd', 'cadmium', { weight: iupac(112.411), density: table(8.65), boilsAtC: recalled(767) }),
  row('In', 'indium', { weight: recalled(114.818) }),
  row('Sn', 'tin', { weight: iupac(118.71), density: table(7.31), meltsAtC: its90(231.928) }),
  row('Sb', 'antimony', { weight: iupac(121.76), density: table(6.691), meltsAtC: recalled(630.6) }),
  row('Te', 'tellurium', { weight: iupac(127.6) }),
  row('I', 'iodine', { weight: recalled(126.90447) }),
  row('Xe', 'xenon'),
  row('Cs', 'caesium'),
  row('Ba', 'barium', { weight: recalled(137.327) }),
  row('La', 'lanthanum'),
  row('Ce', 'cerium', { weight: recalled(140.116) }),
  row('Pr', 'praseodymium'),
  row('Nd', 'neodymium'),
  row('Pm', 'promethium'),
  row('Sm', 'samarium'),
  row('Eu', 'europium'),
  row('Gd', 'gadolinium'),
  row('Tb', 'terbium'),
  row('Dy', 'dysprosium'),
  row('Ho', 'holmium'),
  row('Er', 'erbium'),
  row('Tm', 'thulium'),
  row('Yb', 'ytterbium'),
  row('Lu', 'lutetium'),
  row('Hf', 'hafnium'),
  row('Ta', 'tantalum', { weight: recalled(180.94788) }),
  row('W', 'tungsten', { weight: recalled(183.84) }),
  row('Re', 'rhenium', { weight: recalled(186.207) }),
  row('Os', 'osmium', { weight: recalled(190.23) }),
  row('Ir', 'iridium', { weight: recalled(192.217) }),
  row('Pt', 'platinum', { weight: iupac(195.084), density: table(21.45), meltsAtC: recalled(1768) }),
  row('Au', 'gold', { weight: iupac(196.966569), density: table(19.3), meltsAtC: its90(1064.18) }),
  row('Hg', 'mercury', { weight: iupac(200.592), density: table(13.546), boilsAtC: recalled(356.6) }),
  row('Tl', 'thallium', { weight: recalled(204.38) }),
  row('Pb', 'lead', { weight: iupac(207.2), density: table(11.35), meltsAtC: recalled(327.5) }),
  row('Bi', 'bismuth', { weight: iupac(208.9804), density: table(9.747), meltsAtC: recalled(271.4) }),
  row('Po', 'polonium'),
  row('At', 'astatine'),
  row('Rn', 'radon'),
  row('Fr', 'francium'),
  row('Ra', 'radium'),
  row('Ac', 'actinium'),
  row('Th', 'thorium', { weight: recalled(232.0377) }),
  row('Pa', 'protactinium'),
  row('U', 'uranium', { weight: recalled(238.02891) }),
  row('Np', 'neptunium'),
  row('Pu', 'plutonium'),
  row('Am', 'americium'),
  row('Cm', 'curium'),
  row('Bk', 'berkelium'),
  row('Cf', 'californium'),
  row('Es', 'einsteinium'),
  row('Fm', 'fermium'),
  row('Md', 'mendelevium'),
  row('No', 'nobelium'),
  row('Lr', 'lawrencium'),
  row('Rf', 'rutherfordium'),
  row('Db', 'dubnium'),
  row('Sg', 'seaborgium'),
  row('Bh', 'bohrium'),
  row('Hs', 'hassium'),
  row('Mt', 'meitnerium'),
  row('Ds', 'darmstadtium'),
  row('Rg', 'roentgenium'),
  row('Cn', 'copernicium'),
  row('Nh', 'nihonium'),
  row('Fl', 'flerovium'),
  row('Mc', 'moscovium'),
  row('Lv', 'livermorium'),
  row('Ts', 'tennessine'),
  row('Og', 'oganesson'),
].map((of, at) => ({ ...of, number: at + 1 }));

const BY_SYMBOL: ReadonlyMap<string, ElementRow> = new Map(ELEMENTS.map((row) => [row.symbol, row]));
