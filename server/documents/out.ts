/** Shipments that nobody has settled at the end of a day, with their metal and its worth. */
import { certain, minus } from '../engine/accounts/inexact';
import { memo } from '../engine/accounts/memo';
import type { Entry, Money } from '../engine/entry';
import { termsOn } from '../engine/selling/deal';
import { closedOn, headOf } from '../workspace/selling/consigned';
import { type Sale, salesOf } from '../workspace/selling/sales';
import { isOf } from '../workspace/selling/shipments';
import type { Workspace } from '../workspace/workspace';
import type { Choice } from './choice';
import { type Going, goingIn } from './going';
import { type Worth, worthOf } from './worth';

export interface Waiting {
  readonly head: Entry;
  readonly parts: readonly Entry[];
  /** In which the party agreed to settle. */
  readonly agreedDays: number | undefined;
  readonly party: string | undefined;
  readonly going: readonly Going[];
}

export interface Out extends Waiting {
  readonly worth: Worth | undefined;
  readonly insured: Money | undefined;
  /** What the insurance would not pay, where both are in one currency. */
  readonly open: Worth | undefined;
}

/** As they left: the longest out first. */
export const outOn = (workspace: Workspace, choice: Choice, day: string): readonly Out[] =>
  waitingOn(workspace, choice, day).map((one): Out => {
    const worth = worthOf(
      workspace,
      day,
      one.going.flatMap(({ fine }) => fine),
    );
    const insured = one.parts.findLast(({ said }) => said.insured)?.said.insured;
    return { ...one, worth, insured, open: leftOpen(worth, insured) };
  });

/** The same without its worth. */
export const waitingOn = (workspace: Workspace, { party }: Choice, day: string): readonly Waiting[] =>
  awayIn(workspace)
    .filter((one) => one.left <= day && one.until > day && (party === undefined || one.party === party))
    .map((one) => {
      if (one.lots.every(({ until }) => until > day)) return one;
      return { ...one, going: one.lots.flatMap(({ going, until }) => (until > day ? [going] : [])) };
    });

/** A shipment as long as it waits for its account. */
interface Away extends Waiting {
  readonly left: string;
  /** What goes, and the day from which it is out no more; of all of it the last. */
  readonly lots: readonly { readonly going: Going; readonly until: string }[];
  readonly until: string;
}

/** Behind every day. */
export const NEVER = '~';

const away = memo<Workspace, readonly Away[]>();

/** Of all days: accounts of many months ask for each. */
const awayIn = (workspace: Workspace): readonly Away[] => {
  const known = away.get(workspace);
  if (known) return known;
  const { parties } = workspace.workshop;
  const sales = salesOf(workspace);
  const made = sales.ships.flatMap((sale: Sale): readonly Away[] => {
    const { parts } = sale;
    const head = headOf(sale);
    const party = head.party?.name;
    const left = head.date ?? '';
    const of = party === undefined ? undefined : parties.get(party);
    if (of?.role === 'customer') return [];
    const closed = closedOn(sales, sale);
    const lots = goingIn(workspace, parts).flatMap((going) => {
      const { segment, flow } = going;
      const lot = flow.lot!.name;
      // What is theirs went home, as silver that was lent: nobody settles it.
      const isTheirs = segment !== undefined && isOf(workspace, { lot, segment, grams: undefined }, party);
      return closed.has(lot) && !isTheirs ? [{ going, until: closed.get(lot) ?? NEVER }] : [];
    });
    const until = lots
      .map((lot) => lot.until)
      .sort()
      .at(-1);
    if (until === undefined) return [];
    const [going, agreedDays] = [lots.map((lot) => lot.going), termsOn(of, left)?.days];
    return [{ head, parts, party, agreedDays, going, left, lots, until }];
  });
  away.set(workspace, made);
  return made;
};

const leftOpen = (worth: Worth | undefined, insured: Out['insured']): Worth | undefined => {
  if (!worth || (insured && insured.currency !== worth.currency)) return undefined;
  const open = minus(worth.money, certain(insured?.digits.value.toNumber() ?? 0));
  return open.value > 0 ? { money: open, currency: worth.currency } : undefined;
};
