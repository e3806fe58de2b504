/** What several rules ask of an entry's lots. */
import type { Account } from '../engine/book';
import type { Named } from '../engine/entry';
import { verb } from '../vocabulary/verbs';
import type { Look } from './rule';

/** The places where an entry takes or speaks of a lot, not those where it makes one. */
export const usesOf = ({ entry }: Account): readonly Named[] => {
  const uses: Named[] = [];
  const names = verb(entry.verb)?.names;
  if (entry.name && names === 'lot') uses.push(entry.name);
  for (const flow of entry.flows) if (flow.lot && flow.word !== 'out') uses.push(flow.lot);
  return uses;
};

/** Lots taken that nothing makes, each once, with the known name that is nearest. */
export const strangeLots = (account: Account, look: Look): readonly { lot: Named; near: string | undefined }[] => {
  if (account.entry.broken || account.entry.prefix === 'void') return [];
  const seen = new Set<string>();
  return usesOf(account).flatMap((lot) => {
    const born = (account.lots.get(lot.name)?.births.length ?? 0) > 0;
    if (born || seen.has(lot.name) || look.book.mentioned(lot.name)) return [];
    seen.add(lot.name);
    return [{ lot, near: account.nearNames.get(lot.name) }];
  });
};
