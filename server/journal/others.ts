/** Details that are neither flows nor gear: what a customer claims, what a laboratory read, what a buyer pays and charges. */
import type { OtherDetail, Said } from '../engine/entry';
import type { PieceNode, ReadingNode, Section, Value } from '../syntax/tree';
import { lean } from '../text/lists';
import { placeIn } from '../text/place';
import { isFlowWord, isGearWord } from '../vocabulary/details';
import { amountOf, moneyOf, namedValue, readingOf } from './amounts';

/** `joined` are readings that a line further goes on with. None of a flow, of gear, or of anything but a detail. */
export const readOther = (
  section: Section,
  piece: PieceNode,
  said: Said,
  joined: readonly ReadingNode[],
): OtherDetail[] => {
  const word = piece.word?.text.toLowerCase();
  if (piece.kind !== 'detail' || !word || isFlowWord(word) || isGearWord(word)) return [];
  const values = piece.filled.filter((value) => value !== undefined);
  return [
    {
      word,
      place: placeIn(section, piece),
      names: lean(values.flatMap((value) => namedValue(section, value) ?? [])),
      amounts: lean(values.flatMap((value) => (value.shape === 'amount' ? [amountOf(section, value, piece)] : []))),
      money: moneyIn(
        section,
        values.filter((value) => !isLeast(value)),
      ),
      ...leastIn(section, values.filter(isLeast)),
      reading: readingOf(section, [...piece.readings, ...joined]),
      ...dateIn(section, values),
      said,
      ...(word === 'expect' ? productBefore(section, piece) : {}),
    },
  ];
};

/** `at least 60.00 USD` */
const isLeast = ({ lead }: Value): boolean => lead?.text.toLowerCase() === 'at least';

const moneyIn = (section: Section, values: readonly Value[]): OtherDetail['money'] =>
  values.map((value) => moneyOf(section, value)).find((money) => money !== undefined);

const leastIn = (section: Section, values: readonly Value[]): Pick<OtherDetail, 'least'> => {
  const least = moneyIn(section, values);
  return least ? { least } : {};
};

const dateIn = (section: Section, values: readonly Value[]): Pick<OtherDetail, 'date' | 'dateWas'> => {
  const found = values.find((value) => value.shape === 'date');
  const was = found?.was?.shape === 'date' ? found.was.text : undefined;
  return {
    date: found?.text,
    ...(found && was !== undefined ? { dateWas: { place: placeIn(section, found), date: was } } : {}),
  };
};

const productBefore = (section: Section, piece: PieceNode): Pick<OtherDetail, 'product'> => {
  const line = section.lines.find(({ pieces }) => pieces.includes(piece));
  const out = line?.pieces.findLast(({ start, word }) => start < piece.start && word?.text.toLowerCase() === 'out');
  return out ? { product: placeIn(section, out) } : {};
};
