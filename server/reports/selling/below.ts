/** An offer below the terms on file, in words. */
import type { Below, Shortfall } from '../../engine/selling/shortfall';
import type { Terms } from '../../engine/workshop';
import { showMoney } from '../../quantity/money';

/** Both sums, the difference, and the words that make it. */
export const belowSays = (terms: Terms, below: Below): string => {
  const { words } = below;
  const by =
    words.length === 1 ? [wordSays(words[0]!)] : words.map((one) => `${wordSays(one)} (${showMoney(one.short)})`);
  return `They offer ${sumsSay('offer', terms, below)}${by.length > 0 ? `, by ${by.join(' and ')}` : ''}.`;
};

/** Of metal that is sold for a sum. */
export const soldBelowSays = (terms: Terms, below: Below): string => `They pay ${sumsSay('sale', terms, below)}.`;

const sumsSay = (what: string, { from }: Terms, { offered, agreed, short }: Below): string =>
  `${showMoney(offered)}; the terms from ${from} come to ${showMoney(agreed)}. The ${what} is ${showMoney(short)} below them`;

const wordSays = ({ word, isMissing }: Shortfall): string => (isMissing ? `no \`${word}\`` : `its \`${word}\``);
