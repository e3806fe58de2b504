/**
 * Slips put into a clean journal, one at a time, and what is said of each. A weight counts as checked by another reading if it stands in a
 * hand-over (the same metal weighed twice), or in a balance tight enough to show the change: one that the change would throw out of its band
 * wherever in the band it stood.
 */
import type { Digits, Entry } from '../../server/engine/entry';
import { decimal } from '../../server/quantity/decimal';
import { uncertainty } from '../../server/quantity/measured';
import { digitsIn } from '../../server/rules/figures';
import { findingsOf } from '../../server/rules/findings';
import type { Finding } from '../../server/rules/rule';
import { weighingsOf } from '../../server/rules/weighings';
import { withTexts } from '../../server/workspace/update';
import { locate, touchedFiles, type Workspace } from '../../server/workspace/workspace';
import type { Random } from './random';

export type SlipKind = 'gram' | 'swap' | 'unit';

export interface Trial {
  readonly kind: SlipKind;
  readonly file: string;
  readonly line: number;
  readonly was: string;
  readonly is: string;
  readonly checkedBy: 'hand-over' | 'balance' | 'nothing';
  /** A finding stands on the line, or names it as the other place. */
  readonly found: boolean;
  /** It stands on the line itself. */
  readonly primary: boolean;
  /** One of its fixes gives the page back as it was. */
  readonly mended: boolean;
  readonly codes: readonly string[];
}

interface Spot {
  readonly entry: Entry;
  readonly digits: Digits;
  readonly file: string;
  readonly start: number;
  readonly end: number;
}

/** Every weight with a unit of mass in entries that count. */
export const weightsOf = (workspace: Workspace): Spot[] =>
  [...workspace.pages.values()].flatMap((page) =>
    page.entries
      .filter(({ prefix, broken }) => prefix === undefined && !broken)
      .flatMap((entry) =>
        weighingsOf(entry)
          .flatMap(({ amount }) => digitsIn(amount))
          .filter(({ unit }) => unit?.kind === 'mass')
          .map((digits) => ({ entry, digits, ...locate(workspace, digits.place) })),
      ),
  );

const swapped = (text: string, random: Random): string | undefined => {
  const pairs = [...text].flatMap((char, at) => {
    const next = text[at + 1] === '.' ? at + 2 : at + 1;
    const other = text[next];
    return char !== '.' && other !== undefined && other !== char ? [[at, next] as const] : [];
  });
  if (pairs.length === 0) return undefined;
  const [first, second] = random.pick(pairs);
  const chars = [...text];
  [chars[first], chars[second]] = [chars[second]!, chars[first]!];
  return chars.join('');
};

const OTHER_UNITS = ['dwt', 'ozt', 'oz', 'kg', 'gr'];

/** The figure with its unit, with one slip in it. */
const slipped = (written: string, digits: Digits, kind: SlipKind, random: Random): string | undefined => {
  const { text } = digits;
  if (kind === 'unit')
    return written.replace(/[^\d.\s]+$/, random.pick(OTHER_UNITS.filter((unit) => unit !== digits.unit!.symbol)));
  if (kind === 'swap') {
    const swap = swapped(text, random);
    return swap && written.replace(text, swap);
  }
  const gram = decimal(1).div(digits.unit!.factor);
  const more = random.next() < 0.5 || digits.value.lte(gram) ? digits.value.plus(gram) : digits.value.minus(gram);
  return written.replace(text, more.toFixed(text.includes('.') ? text.length - text.indexOf('.') - 1 : 0));
};

const checkOf = (workspace: Workspace, spot: Spot, changeGrams: number): Trial['checkedBy'] => {
  const account = workspace.book.account(spot.entry);
  const holds = (
    amount: { readonly place: { readonly anchor: object; readonly start: number; readonly end: number } } | undefined,
  ): boolean =>
    amount !== undefined &&
    amount.place.anchor === spot.digits.place.anchor &&
    amount.place.start <= spot.digits.place.start &&
    spot.digits.place.end <= amount.place.end;
  for (const story of account.lots.values()) {
    if (story.handovers.some(({ from, to }) => holds(from.weight.amount) || holds(to.weight.amount)))
      return 'hand-over';
  }
  const { step } = account;
  if (!step?.unaccounted || !step.usual) return 'nothing';
  const flows = [...step.inputs, ...step.added, ...step.outputs, ...step.lost];
  if (!flows.some(({ amount }) => holds(amount))) return 'nothing';
  const band = step.usual.high - step.usual.low + 4 * uncertainty(step.unaccounted);
  return Math.abs(changeGrams) > band ? 'balance' : 'nothing';
};

/** One slip in a clean journal; nothing if this weight cannot slip this way. */
export const tryOne = (workspace: Workspace, spot: Spot, kind: SlipKind, random: Random): Trial | undefined => {
  const text = workspace.pages.get(spot.file)!.page.text;
  const written = text.slice(spot.start, spot.end);
  const slip = slipped(written, spot.digits, kind, random);
  if (!slip || slip === written) return undefined;
  const page = text.slice(0, spot.start) + slip + text.slice(spot.end);
  const after = withTexts(workspace, new Map([[spot.file, page]]));
  const line = text.slice(0, spot.start).split('\n').length;
  const findings = touchedFiles(workspace, after).flatMap((file) => findingsOf(after, file));
  const onLine = (place: Finding['place']): boolean => {
    const at = locate(after, place);
    return at.file === spot.file && page.slice(0, at.start).split('\n').length === line;
  };
  const naming = findings.filter(
    ({ place, related }) => onLine(place) || related?.some((other) => onLine(other.place)),
  );
  const mended = naming.some((finding) =>
    finding.fixes?.some((fix) => apply(after, page, spot.file, fix.edits) === text),
  );
  const before = spot.digits.value.times(spot.digits.unit!.factor);
  const now = weightsOf(after).find(({ file, start }) => file === spot.file && start === spot.start)?.digits;
  const change = now?.unit ? now.value.times(now.unit.factor).minus(before).toNumber() : Number.POSITIVE_INFINITY;
  return {
    kind,
    file: spot.file,
    line,
    was: written,
    is: slip,
    checkedBy: checkOf(workspace, spot, change),
    found: naming.length > 0,
    primary: naming.some(({ place }) => onLine(place)),
    mended,
    codes: naming.map(({ code }) => code),
  };
};

const apply = (
  workspace: Workspace,
  page: string,
  of: string,
  edits: readonly { readonly at: Finding['place']; readonly text: string }[],
): string | undefined => {
  let text = page;
  const located = edits
    .map((edit) => ({ ...locate(workspace, edit.at), text: edit.text }))
    .sort((a, b) => b.start - a.start);
  for (const { file, start, end, text: by } of located) {
    if (file !== of) return undefined;
    text = text.slice(0, start) + by + text.slice(end);
  }
  return text;
};
