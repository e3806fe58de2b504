/** The small closed sets of words: prefixes, product kinds, states, methods, events. */

export interface SmallWord {
  readonly word: string;
  readonly meaning: string;
}

const rows = (...pairs: readonly [string, string][]): readonly SmallWord[] =>
  pairs.map(([word, meaning]) => ({ word, meaning }));
const setOf = (words: readonly SmallWord[]): ReadonlySet<string> => new Set(words.map(({ word }) => word));

export const PREFIXES = rows(
  ['plan', 'Not yet done: advised on, booked nowhere. Done when the same verb and name stand without it.'],
  ['more', 'The same entry going on another day.'],
  ['correct', 'Mends a sealed entry: new, `was`, old.'],
  ['void', 'Should not stand: shown, not counted.'],
);

export const KINDS = rows(
  ['button', 'Metal from the bottom of a crucible or cone.'],
  ['bead', 'Metal left on a cupel.'],
  ['bar', 'Cast piece.'],
  ['shot', 'Metal poured into water.'],
  ['prills', 'Loose beads of metal.'],
  ['matte', 'Molten sulphide layer.'],
  ['speiss', 'Molten arsenide or antimonide layer.'],
  ['slag', 'Fused flux and oxides.'],
  ['skull', 'Metal frozen on the crucible wall.'],
  ['dust', 'What is swept or filtered from air.'],
  ['fume', 'What left as smoke and was caught.'],
  ['sponge', 'Porous metal, retorted or thrown down.'],
  ['solution', 'Metal in acid.'],
  ['residue', 'What acid left.'],
  ['cornet', 'Parted gold of an assay.'],
  ['concentrate', 'The heavy part.'],
  ['tails', 'The light part.'],
  ['ash', 'What burning left.'],
  ['filter', 'Paper or cloth with what it holds.'],
  ['drillings', 'Sample by drill.'],
  ['other', 'Anything else.'],
);

export const STATES = rows(
  ['hot', 'Weighed hot: reads light.'],
  ['damp', 'Not quite dry.'],
  ['wet', 'With its water.'],
  ['dry', 'Dried.'],
  ['annealed', 'Heated to redness after parting.'],
  ['clean', 'Free of slag and flux.'],
);

export const METHODS = rows(
  ['fire', 'Fire assay: cupelled and parted.'],
  ['xrf', 'X-ray fluorescence, of the surface.'],
  ['density', 'Weighed in air and in water.'],
  ['touch', 'Touchstone and acids.'],
  ['spectro', 'Spark emission.'],
  ['icp', 'Plasma emission of a solution.'],
  ['titration', 'Titrated.'],
  ['stannous', 'Stannous test of a solution.'],
  ['salt', 'Salt test of a solution for silver.'],
);

/** Recognised inside the text of a clock line. */
export const EVENTS = rows(
  ['charged', 'The charge is in.'],
  ['molten', 'All liquid.'],
  ['quiet', 'No more gas.'],
  ['poured', 'Poured.'],
  ['driving', 'The cupel drives.'],
  ['blick', 'The last lead has left.'],
  ['dry', 'Dry.'],
  ['out', 'Taken out.'],
  ['off', 'Furnace off.'],
);

export const BASES = rows(
  ['received', 'Their weight as it came.'],
  ['melted', 'Their weight after melting.'],
  ['value', 'The value of the metal.'],
);

export const POOLS = rows(['weight', 'Shares by weight.'], ['assay', 'Shares by fine weight.']);

export const KIND_WORDS = setOf(KINDS);
export const STATE_WORDS = setOf(STATES);
export const METHOD_WORDS = setOf(METHODS);
export const EVENT_WORDS = setOf(EVENTS);
export const PREFIX_WORDS = setOf(PREFIXES);
export const BASIS_WORDS = setOf(BASES);
export const POOL_WORDS = setOf(POOLS);
export const LEAD_WORDS: ReadonlySet<string> = new Set([
  'from',
  'to',
  'of',
  'by',
  'at',
  'for',
  'with',
  'until',
  'on',
  'digest',
]);
/** Words of the amount itself. */
export const AMOUNT_WORDS: ReadonlySet<string> = new Set(['gross', 'none', 'nd', 'was', 'expanded', 'standard']);
