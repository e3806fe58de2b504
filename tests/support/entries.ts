/** Entries from the text of a page, a workshop from a few words, and a book of them small enough to be seen through. */
import type { LotStory, Step } from '../../server/engine/book';
import type { Entry, Flow } from '../../server/engine/entry';
import { type LotContext, lotStory } from '../../server/engine/lot';
import { stepOf } from '../../server/engine/step';
import { type Container, NO_WORKSHOP, type Workshop } from '../../server/engine/workshop';
import { readPage } from '../../server/journal/page';
import { decimal } from '../../server/quantity/decimal';
import type { Measured } from '../../server/quantity/measured';
import type { Scale } from '../../server/quantity/weighing';
import { parsePage } from '../../server/syntax/parse';

/** The entries of a page, each under the day line above it. */
export const entriesOf = (text: string): readonly Entry[] =>
  readPage(parsePage('test.melt', `2026-05-04\n${text.replace(/^\n+/, '')}\n`)).entries;

export interface Shop {
  /** Division in grams, or a whole scale. */
  readonly scales?: Readonly<Record<string, string | Omit<Scale, 'name'>>>;
  /** Tare in grams, with its standard uncertainty where it is not zero. */
  readonly tares?: Readonly<Record<string, string | readonly [string, number]>>;
  readonly measures?: Readonly<Record<string, string>>;
  readonly limits?: Partial<Workshop['limits']>;
  readonly recipes?: Readonly<Record<string, readonly (readonly [string, number])[]>>;
}

const mapOf = <From, To>(rows: Readonly<Record<string, From>> | undefined, make: (name: string, row: From) => To) =>
  new Map(Object.entries(rows ?? {}).map(([name, row]) => [name, make(name, row)]));

export const shopOf = (shop: Shop = {}): Workshop => ({
  ...NO_WORKSHOP,
  scales: mapOf(shop.scales, (name, row) => ({
    ...(typeof row === 'string' ? { division: decimal(row) } : row),
    name,
    place: undefined,
  })),
  containers: mapOf(shop.tares, (name, row): Container => {
    const [tare, u] = typeof row === 'string' ? [row, 0] : row;
    return { name, place: undefined, tareGrams: decimal(tare), tareUncertaintyGrams: u };
  }),
  measures: mapOf(shop.measures, (_, grams) => decimal(grams)),
  recipes: mapOf(shop.recipes, (name, parts) => ({
    name,
    place: undefined,
    parts: parts.map(([material, share]) => ({ material, share })),
  })),
  limits: { ...NO_WORKSHOP.limits, ...shop.limits },
});

export interface SmallBook {
  readonly entries: readonly Entry[];
  readonly story: (lot: string, context?: LotContext) => LotStory;
  /** The balance of the first entry of this name. */
  readonly step: (name: string) => Step;
}

/** Stories and steps of one page; balances hand solved weights on along a chain of lots, not around a circle. */
export const bookOf = (text: string, workshop: Workshop = NO_WORKSHOP): SmallBook => {
  const entries = entriesOf(text);
  const about = (lot: string) =>
    entries.filter(
      ({ name, toLot, flows }) =>
        name?.name === lot || toLot?.name === lot || flows.some((flow) => flow.lot?.name === lot),
    );
  const eventOf = (flow: Flow, lot: string | undefined) =>
    lot === undefined ? undefined : story(lot).events.find((event) => event.flow === flow);
  const stepIn = (entry: Entry): Step =>
    stepOf(entry, workshop, {
      before: (flow) => eventOf(flow, flow.lot?.name)?.before,
      make: (flow) => (flow.lot ? story(flow.lot.name).make : undefined),
    });
  const solved = (entry: Entry, flow: Flow): Measured | undefined => {
    const found = stepIn(entry).solved;
    return found?.flow === flow ? found.mass : undefined;
  };
  const leftOf = (entry: Entry, lot: string) => story(lot).events.find((event) => event.entry === entry)?.before;
  const story = (lot: string, context: LotContext = { leftOf }): LotStory =>
    lotStory(lot, about(lot), workshop, solved, context);
  return {
    entries,
    story,
    step: (name) => stepIn(entries.find((entry) => entry.name?.name === name && entry.flows.length > 0)!),
  };
};
