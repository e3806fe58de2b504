/** The way to a liquidus: what the model is, the figures beside it, and a formula that can be worked by hand. */
import type { Fractions } from '../engine/bench/alloy';
import {
  EQUAL_ENERGY_FROM,
  equalEnergy,
  GOLD_SILVER,
  goldCopper,
  LIQUIDUS_ABOVE_K,
  silverCopper,
} from '../engine/bench/equal-energy';
import { goldSilverByLine, liquidusBetween, threeMoles } from '../engine/bench/liquidus';
import { alloyWords, celsiusWords, type Molten } from './molten';

export const rangeRows = (molten: Molten): readonly string[] => [
  `${molten.of === 'product' ? 'product ' : 'charge  '}          ${alloyWords(molten.fractions)}`,
  ...betweenRows(molten),
  ...byHand(molten.fractions),
  `liquidus          ${celsiusWords(molten.range.liquidusCelsius)}`,
  molten.range.solidusCelsius
    ? `solidus           ${celsiusWords(molten.range.solidusCelsius)}`
    : `solidus           lower: ${molten.range.withoutSolidus}`,
];

/** The alloy between the two compositions beside it, so that its liquidus can be followed: the straight line, and what the curve makes of it. */
const betweenRows = ({ fractions, range }: Molten): readonly string[] => {
  const found = liquidusBetween(fractions);
  if (!found) return [];
  const { metal, from, to, share, lineCelsius } = found;
  const percent = (one: number): string => `${Number((100 * one).toFixed(1))}`;
  const whole = (celsius: number): string => celsius.toFixed(0);
  const own = range.liquidusCelsius.best;
  return [
    `  at ${metal} ${percent(from.share)} %      ${whole(from.celsius)} °C, the other metals shared as in it`,
    `  at ${metal} ${percent(to.share)} %      ${whole(to.celsius)} °C`,
    `  between         ${whole(from.celsius)} + (${whole(to.celsius)} − ${whole(from.celsius)}) × (${percent(share)} − ${percent(from.share)})/(${percent(to.share)} − ${percent(from.share)}) = ${whole(lineCelsius)} °C by a straight line; the curve of the two-phase equations gives ${whole(own)} °C`,
  ];
};

const LEAST = 0.0005;

const signed = (value: number): string => `${value < 0 ? '−' : ''}${Math.abs(value).toFixed(0)}`;

/** Without copper the straight line between the pure metals; with copper, where gold is much, equal energies of liquid and solid. */
const byHand = (fractions: Fractions): readonly string[] => {
  const [gold, silver, copper] = ['Au', 'Ag', 'Cu'].map((symbol) => fractions.get(symbol) ?? 0) as [
    number,
    number,
    number,
  ];
  const whole = gold + silver + copper;
  if (copper < LEAST) {
    if (gold < LEAST || silver < LEAST) return [];
    const share = gold / whole;
    return [
      `by hand           ${share.toFixed(3)} × 1064.2 + ${(1 - share).toFixed(3)} × 961.8 = ${goldSilverByLine(share).toFixed(0)} °C, good to 5 K`,
    ];
  }
  if (gold < EQUAL_ENERGY_FROM * whole) return [];
  const moles = threeMoles(fractions);
  const [a, s, c] = moles;
  const { enthalpy, mixing, entropy, kelvin, celsius } = equalEnergy(moles);
  const x = (share: number): string => share.toFixed(3);
  const terms = [
    ...(silver >= LEAST ? [`${x(a)} × ${x(s)} × ${GOLD_SILVER}`] : []),
    `${x(a)} × ${x(c)} × (${signed(goldCopper(moles))})`,
    ...(silver >= LEAST ? [`${x(s)} × ${x(c)} × (${signed(silverCopper(moles))})`] : []),
  ];
  return [
    `by hand           mole fractions Au ${x(a)}${silver >= LEAST ? `, Ag ${x(s)}` : ''}, Cu ${x(c)}`,
    `  melting         Σ x ΔH, of 12552, 11297, 13263 J/mol = ${enthalpy.toFixed(0)}; Σ x ΔH/T, at 1337.3, 1234.9, 1357.8 K = ${entropy.toFixed(3)}`,
    `  mixing          ${terms.join(' + ')} = ${signed(mixing)}`,
    `  equal energies  (${enthalpy.toFixed(0)} − ${(-mixing).toFixed(0)})/${entropy.toFixed(3)} = ${kelvin.toFixed(0)} K = ${celsius.toFixed(0)} °C: the liquidus lies ${LIQUIDUS_ABOVE_K.low} to ${LIQUIDUS_ABOVE_K.high} K above it`,
  ];
};
