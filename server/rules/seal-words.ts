/** How a sealed entry is called in a sentence. */
import type { Entry } from '../engine/entry';
import { writeName } from './names';

/** `melt M57`, `more melt M57`, `note`. */
export const entryWords = ({ prefix, verb, name }: Pick<Entry, 'prefix' | 'verb' | 'name'>): string =>
  [prefix, verb, name && writeName(name.name)].filter((word) => word !== undefined && word !== '').join(' ');
