/** Small words of selling. */
import type { Quote } from '../../engine/selling/prices';

/** `1 day`, `14 days` */
export const dayWords = (days: number): string => `${days} ${days === 1 ? 'day' : 'days'}`;

/** A later quote that is not used, for want of a rate. */
export const passedSays = ({ of, date, currency }: Quote): string =>
  `${of} is quoted in ${currency} on ${date}, and no rate of ${currency} is written: the quote before it counts.`;
