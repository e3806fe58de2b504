/** Metals that neither go quietly into the cupel nor simply stay: what they do in cupelling and in parting, from which share on. */
import { BERINGER, COMMON_PRACTICE, FROM_MEMORY, ISO_11426, ROSE } from './result';

export interface Stranger {
  readonly symbol: string;
  /** Share of the charge, 0 to 1, from which it is told; a guess, but where the source says more. */
  readonly least: number;
  /** The step goes wrong by it; else it is only good to know where it goes. */
  readonly spoils: boolean;
  /** What it does, as the end of a sentence that begins with its name. */
  readonly does: string;
  /** What to do, as a sentence. */
  readonly todo?: string;
  readonly source: string;
}

/** Where the shares are from. */
export const LEAST_SOURCE = `from which share on: a guess, ${FROM_MEMORY}`;

const SCORIFY = 'Melt it with much lead and a little borax first, and cupel the lead button that comes of it.';

const stays = (symbol: string, does: string, source: string): Stranger => ({
  symbol,
  least: 0.005,
  spoils: false,
  does,
  source,
});

const spoils = (symbol: string, does: string, source: string, least = 0.02, todo = SCORIFY): Stranger => ({
  symbol,
  least,
  spoils: true,
  does,
  todo,
  source,
});

export const IN_CUPEL: readonly Stranger[] = [
  spoils('Sb', 'cracks and unfolds the cupel and leaves pale rings of scoria', BERINGER),
  spoils('Sn', 'leaves pale rings of scoria, in which metal hangs', `scoria: ${BERINGER}; the rest ${FROM_MEMORY}`),
  spoils('As', 'leaves pale rings of scoria and fumes', `scoria: ${BERINGER}; the rest ${FROM_MEMORY}`),
  spoils('Fe', 'leaves a dark green, corroded cupel', BERINGER),
  spoils(
    'Ni',
    'does not go in with the usual lead',
    `extra lead, or 15 g lead and 1.5 to 2 g borax at 1000 to 1100 °C for an assay: ${ISO_11426}`,
    0.02,
    'Give it more lead, an assay 4 g more, or scorify it first with lead and borax at 1000 to 1100 °C.',
  ),
  spoils(
    'Te',
    'makes the bead break up and takes gold and silver into the cupel',
    `large lead buttons: ${ROSE}; the rest ${FROM_MEMORY}`,
    0.005,
    'Take a large lead button.',
  ),
  spoils(
    'Zn',
    'fumes, spits and leaves pale rings of scoria',
    `scoria: ${BERINGER}; the rest ${FROM_MEMORY}`,
    0.05,
    'Melt it down first, under a cover and an exhaust, and cupel what is left.',
  ),
  stays('Bi', 'goes into the cupel as lead does, and takes more silver with it', FROM_MEMORY),
  stays(
    'Pt',
    'stays in the bead, and dulls and crystallises its surface',
    `surface: ${BERINGER}; the rest ${FROM_MEMORY}`,
  ),
  stays('Pd', 'stays in the bead', FROM_MEMORY),
  ...['Rh', 'Ir', 'Ru', 'Os'].map((symbol) => stays(symbol, 'stays in the bead or below it', FROM_MEMORY)),
];

const FILTER = 'Cupel it out first, or let the slime settle, filter it and melt it with the next smelt.';

export const IN_PARTING: readonly Stranger[] = [
  spoils('Sn', 'turns to a white slime that clogs the filter and holds gold', FROM_MEMORY, 0.01, FILTER),
  spoils('Sb', 'turns to a white slime that clogs the filter and holds gold', FROM_MEMORY, 0.01, FILTER),
  stays('Pt', 'goes partly with the silver and colours the acid straw yellow; the rest stays with the gold', BERINGER),
  stays('Pd', 'goes with the silver and colours the acid orange', BERINGER),
  ...['Rh', 'Ir', 'Ru', 'Os'].map((symbol) => stays(symbol, 'stays with the gold', COMMON_PRACTICE)),
];
