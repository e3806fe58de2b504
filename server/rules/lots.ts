/** What several rules ask of an entry's lots. */
import type { Account } from '../engine/book';
import type { Entry, Named } from '../engine/entry';
import { nearest } from '../text/nearest';
import { verb } from '../vocabulary/verbs';
import { salesOf } from '../workspace/selling/sales';
import type { Workspace } from '../workspace/workspace';
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

/** What a settlement names that nothing was shipped as and no lot is called, with the shipment or lot that is nearest and where it is named. */
export const strangeSettled = (
  workspace: Workspace,
  entry: Entry,
): { readonly name: Named; readonly near: Named | undefined } | undefined => {
  const sales = salesOf(workspace);
  const { name } = entry;
  if (entry.verb !== 'settle' || !name || !sales.of(entry)) return undefined;
  const { book } = workspace;
  const born = (lot: string): Named | undefined =>
    book.lot(lot)?.births[0] && { name: lot, place: book.lot(lot)!.births[0]!.place };
  const shipped = new Map(sales.ships.flatMap(({ entry: { name: of } }) => (of ? [[of.name, of] as const] : [])));
  if (shipped.has(name.name) || born(name.name)) return undefined;
  const near = nearest(name.name, shipped.keys()) ?? nearest(name.name, [...book.lotNames()].filter(born));
  return { name, near: near === undefined ? undefined : (shipped.get(near) ?? born(near)) };
};
