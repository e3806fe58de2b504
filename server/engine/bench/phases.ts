/**
 * Free energies of liquid and solid gold-silver-copper, and whether one phase would form out of the other.
 * Ag and Cu, and their mixing: Dinsdale's unary data and Hayes, Lukas, Effenberg & Petzow 1986, as NIST gives them for solder systems.
 * Au: Dinsdale, from memory. Au-Ag: an assessment from memory. Au-Cu: from memory, the solid fitted to a minimum of 910 °C at 44 at.% Cu.
 */

/** Mole fractions of Au, Ag and Cu, in this order. */
export type Moles3 = readonly [number, number, number];
type Three = [number, number, number];

const GAS_CONSTANT = 8.314462618;

/** G of liquid less G of solid of the pure metals, J/mol, at K. */
function meltingEnergy(kelvin: number): Three {
  const silver =
    kelvin < 1235.08
      ? 11025.076 - 8.891021 * kelvin - 1.034e-20 * kelvin ** 7
      : 11508.141 - 9.301747 * kelvin - 1.412e29 * kelvin ** -9;
  const copper =
    kelvin < 1358.02
      ? 12964.736 - 9.511904 * kelvin - 5.849e-21 * kelvin ** 7
      : 13495.481 - 9.922344 * kelvin - 3.642e29 * kelvin ** -9;
  return [12552 - 9.385866 * kelvin, silver, copper];
}

/** Two-constant mixing energy of a pair, J/mol: x y (even + odd (x − y)). */
interface Pair {
  readonly at: readonly [number, number];
  readonly even: number;
  readonly odd: number;
}

/** Au-Ag and Au-Cu differ between liquid and solid by these, J/mol: what sets the melting of their alloys. */
const GOLD_SILVER_DIFFERENCE = 640;
const GOLD_COPPER_EVEN_DIFFERENCE = -6213;
const GOLD_COPPER_ODD_DIFFERENCE = -1018;

export type Phase = 'liquid' | 'solid';

function pairsOf(phase: Phase, kelvin: number): readonly Pair[] {
  const goldSilver = -16402 + 1.14 * kelvin;
  const goldCopper = -27900 - kelvin;
  const liquid = phase === 'liquid';
  return [
    { at: [0, 1], even: liquid ? goldSilver : goldSilver - GOLD_SILVER_DIFFERENCE, odd: 0 },
    {
      at: [0, 2],
      even: liquid ? goldCopper : goldCopper - GOLD_COPPER_EVEN_DIFFERENCE,
      odd: liquid ? GOLD_COPPER_ODD : GOLD_COPPER_ODD - GOLD_COPPER_ODD_DIFFERENCE,
    },
    {
      at: [1, 2],
      even: liquid ? 17323.4 - 4.46819 * kelvin : 36061.88 - 10.44288 * kelvin,
      odd: liquid ? 1654.38 - 2.35285 * kelvin : -4310.12,
    },
  ];
}
const GOLD_COPPER_ODD = 4730;

/** Natural logarithms of the activity coefficients of the three metals in a phase. */
function logActivityCoefficients(phase: Phase, x: Moles3, kelvin: number): Three {
  const energy: Three = [0, 0, 0];
  for (const { at, even, odd } of pairsOf(phase, kelvin)) {
    const [i, j] = at as [0 | 1 | 2, 0 | 1 | 2];
    const [a, b] = [x[i], x[j]];
    const mixed = a * b * (even + odd * (a - b));
    // Partial molar excess: Gex + dGex/dxi − Σ x dGex/dx, the sum being twice the even part and thrice the odd.
    const weighed = 2 * a * b * even + 3 * a * b * odd * (a - b);
    for (const metal of [0, 1, 2] as const) energy[metal] += mixed - weighed;
    energy[i] += b * (even + odd * (2 * a - b));
    energy[j] += a * (even + odd * (a - 2 * b));
  }
  return energy.map((each) => each / (GAS_CONSTANT * kelvin)) as Three;
}

/**
 * How ready a phase is to form out of another of composition x: the logarithm of Σ Y in Michelsen's test, above 0 when
 * it forms. The search starts from each pure metal and from x itself, since alloys of silver and copper part in two.
 */
export function readiness(from: Phase, to: Phase, x: Moles3, kelvin: number): number {
  const melting = meltingEnergy(kelvin);
  const gammaFrom = logActivityCoefficients(from, x, kelvin);
  const sign = from === to ? 0 : from === 'liquid' ? 1 : -1;
  const potential = x.map(
    (share, metal) => logOf(share) + gammaFrom[metal]! + (sign * melting[metal]!) / (GAS_CONSTANT * kelvin),
  ) as Three;
  const best = startsFor(x).map((start) => converge(to, potential, start, kelvin));
  return Math.max(...best);
}

const logOf = (share: number): number => (share > 0 ? Math.log(share) : Number.NEGATIVE_INFINITY);

/** Near-pure starts only of metals that are there. */
function startsFor(x: Moles3): Moles3[] {
  const corners = ([0, 1, 2] as const).filter((metal) => x[metal] > 0);
  const near = corners.map((corner) => x.map((share, metal) => 0.02 * share + (metal === corner ? 0.98 : 0)) as Three);
  return [...near, x];
}

const MOST_ROUNDS = 400;
const SETTLED = 1e-11;

function converge(to: Phase, potential: Three, start: Moles3, kelvin: number): number {
  let y = start;
  let total = 0;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const gamma = logActivityCoefficients(to, y, kelvin);
    const amounts = potential.map((each, metal) => Math.exp(each - gamma[metal]!)) as Three;
    total = amounts[0] + amounts[1] + amounts[2];
    const next = amounts.map((each, metal) => (each / total + y[metal]!) / 2) as Three;
    const moved = Math.max(...next.map((each, metal) => Math.abs(each - y[metal]!)));
    y = next;
    if (moved < SETTLED) break;
  }
  return Math.log(total);
}
