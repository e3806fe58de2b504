/** What a place in a sentence may hold. A verb, a detail and a remark are each a word and its slots. */

export type SlotTakes =
  | 'lot'
  | 'step'
  | 'amount'
  | 'temperature'
  | 'party'
  | 'material'
  | 'scale'
  | 'container'
  | 'crucible'
  | 'cupel-body'
  | 'mould'
  | 'furnace'
  | 'place'
  | 'kind'
  | 'method'
  | 'metal'
  | 'money'
  | 'rate'
  | 'share'
  | 'date'
  | 'number'
  | 'label'
  | 'basis'
  | 'pool'
  | 'reading'
  | 'file'
  | 'person'
  | 'none'
  | 'text';

export type Lead = 'from' | 'to' | 'of' | 'by' | 'at' | 'for' | 'with' | 'until' | 'on' | 'digest' | 'at least';

export interface Slot {
  /** Any one of these; the first is what is asked for where the slot is empty. */
  readonly takes: readonly SlotTakes[];
  /** The word that goes before. A slot with a lead is known by it. */
  readonly lead?: Lead;
  /** A lead that may go before and says something more: `in 20 g of B57` is a part. */
  readonly orLed?: Lead;
  readonly optional?: true;
}

export interface WordRow {
  readonly word: string;
  readonly slots: readonly Slot[];
}

export const needs = (...takes: SlotTakes[]): Slot => ({ takes });
export const may = (...takes: SlotTakes[]): Slot => ({ takes, optional: true });
export const orLed = (lead: Lead, ...takes: SlotTakes[]): Slot => ({ takes, orLed: lead });
export const led = (lead: Lead, ...takes: SlotTakes[]): Slot => ({ takes, lead });
export const mayBeLed = (lead: Lead, ...takes: SlotTakes[]): Slot => ({ takes, lead, optional: true });
