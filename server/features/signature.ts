/** How the word before the cursor is written, and which part of it comes next. */
import type { Slot } from '../vocabulary/slots';
import { toldOf } from '../vocabulary/told';
import type { Workspace } from '../workspace/workspace';
import { contextAt } from './completion/context';

export interface Signature {
  /** `out [LOT] [AMOUNT] [KIND]`. */
  readonly label: string;
  readonly meaning: string;
  /** Offsets within the label. */
  readonly parts: readonly { readonly start: number; readonly end: number }[];
  /** The part that comes next; the number of parts where all is said. */
  readonly active: number;
}

export const signatureAt = (workspace: Workspace, file: string, offset: number): Signature | undefined => {
  const page = workspace.pages.get(file);
  const context = page && contextAt(page, offset);
  if (context?.at !== 'slot' || !context.row || context.row.slots.length === 0) return undefined;
  const { row, open } = context;
  let label = row.word;
  const parts = row.slots.map((slot) => {
    const start = label.length + 1;
    label += ` ${slotWords(slot)}`;
    return { start, end: label.length };
  });
  const next = row.slots.indexOf(open[0]!);
  return { label, meaning: toldOf(row).meaning, parts, active: next < 0 ? parts.length : next };
};

const slotWords = ({ takes, lead, orLed, optional }: Slot): string => {
  const what = takes.map((one) => one.toUpperCase()).join('/');
  const words = lead ? `${lead} ${what}` : orLed ? `[${orLed}] ${what}` : what;
  return optional ? `[${words}]` : words;
};
