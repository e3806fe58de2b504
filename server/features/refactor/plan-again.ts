/** What was done once becomes the plan of today: the same lines, the next name, the weights left to be read. */
import type { Flow } from '../../engine/entry';
import { lotChoices } from '../completion/lots';
import { nextEntryName, productName } from '../completion/names';
import { asWritten } from '../written-name';
import { type Offer, type Spot, textOf } from './refactoring';

export const planAgain: Offer = (spot) => {
  const { workspace, page, entry, section, today } = spot;
  const { verb } = section;
  if (!verb?.row.flows || entry.prefix || !entry.name || entry.flows.length === 0) return undefined;
  const name = nextEntryName(workspace, verb.row.word) ?? `${entry.name.name}-2`;
  const gear = entry.gear.map(({ word, item }) => `, ${word} ${written(item)}`);
  const lots = new Lots(spot);
  const lines = entry.flows.filter(({ none }) => !none).map((flow) => `  ${lineOf(spot, flow, name, lots)}`);
  const plan = [`plan ${verb.row.word} ${name}${gear.join('')}`, ...lines].join('\n');
  const text = page.page.text;
  const end = text.trimEnd().length;
  const isToday = page.entries.at(-1)?.date === today;
  return {
    title: `Plan it again for today: “plan ${verb.row.word} ${name}”`,
    kind: 'extract',
    edits: [{ file: page.file, start: end, end: text.length, text: `\n\n${isToday ? '' : `${today}\n\n`}${plan}\n` }],
  };
};

const lineOf = (spot: Spot, flow: Flow, name: string, lots: Lots): string => {
  const { word, lot, material, amount, kind, part } = flow;
  const weight = amount ? textOf(spot, amount.place) : undefined;
  // What was added is meant to be added again; what goes in and comes out is weighed anew.
  if (word === 'add') return ['add', written(material ?? lot), weight].filter((one) => one !== undefined).join(' ');
  if (word === 'in')
    return part
      ? `in ? g of ${written({ name: lots.next(lot!.name) })}`
      : `in ${written({ name: lots.next(lot?.name ?? '') })}`;
  const isNamed = lot && !lot.name.startsWith(`${spot.entry.name!.name}.`);
  const product = isNamed ? productName(name, { step: spot.entry.name!.name, product: lot.name }) : undefined;
  return [word, product, kind].filter((one) => one !== undefined).join(' ');
};

const written = (named: { readonly name: string } | undefined): string | undefined =>
  named && (asWritten(named.name) ?? named.name);

/** For a lot that is used up, one on hand of the same make, each once; without one the old name, of which the page then speaks. */
class Lots {
  private readonly taken = new Set<string>();

  constructor(private readonly spot: Spot) {}

  next(was: string): string {
    const { book } = this.spot.workspace;
    const like = book.lot(was)?.make;
    const onHand = lotChoices(this.spot.workspace, undefined).filter((one) => one.onHand && !this.taken.has(one.name));
    const isLike = (name: string): boolean => {
      const make = book.lot(name)?.make;
      return like !== undefined && make?.kind === like.kind && make?.material === like.material;
    };
    const found = onHand.find(({ name }) => name === was) ?? onHand.find(({ name }) => isLike(name));
    if (found) this.taken.add(found.name);
    return found?.name ?? was;
  }
}
