/** An offer below the terms on file, in words. */
import type { Below, Shortfall } from '../../engine/selling/shortfall';
import type { Terms } from '../../engine/workshop';
import { showMoney } from '../../quantity/money';

/** Both sums, the difference, and the words that make it. */
export const belowSays = ({ from }: Terms, { offered, agreed, short, words }: Below): string => {
  const by =
    words.length === 1 ? [wordSays(words[0]!)] : words.map((one) => `${wordSays(one)} (${showMoney(one.short)})`);
  return `They offer ${showMoney(offered)}; the terms from ${from} come to ${showMoney(agreed)}. The offer is ${showMoney(short)} below them${by.length > 0 ? `, by ${by.join(' and ')}` : ''}.`;
};

const wordSays = ({ word, isMissing }: Shortfall): string => (isMissing ? `no \`${word}\`` : `its \`${word}\``);
