/** Slips of the pen that would explain a difference. */
import type { Handover, Slip } from './book';
import type { Entry, Flow } from './entry';
import type { Workshop } from './workshop';

/** Another balance in which a reading stands, in grams: how much it misses now, and which way the reading moves it. */
export interface OtherBalance {
  readonly residual: number;
  readonly u: number;
  readonly sign: 1 | -1;
}

export function handoverSlips(
  _handover: Omit<Handover, 'slips'>,
  _from: Flow | undefined,
  _to: Flow | undefined,
  _workshop: Workshop,
  _other: ((entry: Entry, flow: Flow) => OtherBalance | undefined) | undefined,
): readonly Slip[] {
  return [];
}
