/** Small words of selling. */

/** `1 day`, `14 days` */
export const dayWords = (days: number): string => `${days} ${days === 1 ? 'day' : 'days'}`;
