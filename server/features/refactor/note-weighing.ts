/** A weight that differs from the one before was read anew: that reading becomes an entry of its own, before the work. */
import { flowOn, type Offer, textOf } from './refactoring';

export const noteWeighing: Offer = (spot) => {
  const { page, entry, start, section } = spot;
  const flow = flowOn(spot);
  const figure = flow?.amount?.figure;
  if (flow?.word !== 'in' || flow.part || !flow.lot || figure?.form !== 'reading' || flow.amount!.guessed)
    return undefined;
  if (entry.prefix || !section.verb) return undefined;
  const scale = flow.amount!.scale ?? flow.said.scale;
  const lot = textOf(spot, flow.lot.place);
  const read = textOf(spot, flow.amount!.place)
    .split(/\son\s/, 1)[0]!
    .trimEnd();
  const text = `weigh ${lot} ${read}${scale ? ` on ${scale.name}` : ''}\n\n`;
  return {
    title: `Note it as weighed again: “weigh ${lot} ${read}”`,
    kind: 'extract',
    edits: [{ file: page.file, start, end: start, text }],
  };
};
