/** An entry's section of the tree, read into the value that the engine computes with. */
import type { Amount, Clock, Entry, Flow, Gear, Named, OtherDetail, Said } from '../engine/entry';
import type { PieceNode, Section, Value } from '../syntax/tree';
import { placeIn } from '../text/place';
import { isFlowWord, isGearWord } from '../vocabulary/details';
import { amountOf, moneyOf, named, namedValue, readingOf } from './amounts';
import { readClock } from './clock';
import { productName } from './products';
import { addRemark, inherit, OF_PIECE_BEFORE } from './said';

/** A piece with what was said of it; entry-wide remarks come later. */
interface Spoken {
  readonly piece: PieceNode;
  said: Said;
}

interface Gathered {
  readonly spoken: Spoken[];
  ofEntry: Said;
}

const NOTHING_SAID: Said = {};

/** Reads one entry under its day. `time` is the last clock time above it on that day. */
export const readEntry = (section: Section, date: string | undefined, time: string | undefined): Entry => {
  const gathered = gather(section);
  const head = section.lines[0]?.pieces[0];
  const { place: countPlace, ...slots } = headSlots(section, head);
  const spoken = gathered.spoken.map((one) => ({ ...one, said: inherit(gathered.ofEntry, one.said) }));
  const clocks = readClocks(section, date);
  const amounts = spoken
    .filter(({ piece }) => piece.kind === 'amount')
    .flatMap(({ piece, said }) => {
      const amount = amountIn(section, piece);
      return amount ? [{ amount, said }] : [];
    });
  const lastLine = section.lines.findLast((line) => line.kind !== 'blank');
  const headLine = section.lines[0]!;
  return {
    anchor: section,
    place: placeIn(section, { start: headLine.start, end: lastLine?.end ?? headLine.end }),
    head: placeIn(section, { start: headLine.start + headLine.indent, end: headLine.end }),
    date,
    time: clocks.find((clock) => clock.time)?.time ?? time,
    prefix: prefixOf(section),
    verb: section.verb?.row.word ?? '',
    verbPlace: placeIn(section, section.verb?.node ?? { start: 0, end: 0 }),
    ...slots,
    amount: slots.amount ?? amounts[0]?.amount,
    amounts,
    flows: readFlows(section, spoken, slots.name?.name),
    gear: spoken.flatMap(({ piece, said }) => readGear(section, piece, said)),
    clocks,
    readings: readReadings(section, spoken),
    others: spoken.flatMap(({ piece, said }) => readOther(section, piece, said)),
    said: countPlace ? { ...gathered.ofEntry, at: countPlace } : gathered.ofEntry,
    broken: section.cut || !section.verb,
  };
};

const prefixOf = (section: Section): Entry['prefix'] => {
  const word = section.prefix?.text.toLowerCase();
  return word === 'plan' || word === 'more' || word === 'correct' || word === 'void' ? word : undefined;
};

/** Sorts the pieces: what was said of a line, of a piece, or of the whole entry. */
const gather = (section: Section): Gathered => {
  const gathered: Gathered = { spoken: [], ofEntry: NOTHING_SAID };
  for (const line of section.lines) {
    const onLine: Spoken[] = [];
    const isHead = line.kind === 'head';
    line.pieces.forEach((piece, index) => {
      if (isHead && index === 0) {
        if (piece.row?.word === 'note') gathered.ofEntry = addRemark(section, piece, gathered.ofEntry);
        return;
      }
      if (piece.kind !== 'remark') {
        onLine.push({ piece, said: NOTHING_SAID });
        return;
      }
      const before = onLine.at(-1);
      const word = piece.word!.text.toLowerCase();
      if (before && OF_PIECE_BEFORE.has(word)) before.said = addRemark(section, piece, before.said);
      else if (isHead || !before) gathered.ofEntry = addRemark(section, piece, gathered.ofEntry);
      else for (const one of onLine) one.said = addRemark(section, piece, one.said);
    });
    gathered.spoken.push(...onLine);
  }
  return gathered;
};

/** The head's values by what they are. */
const headSlots = (section: Section, head: PieceNode | undefined) => {
  const found: {
    name: Named | undefined;
    party: Named | undefined;
    toLot: Named | undefined;
    method: Named | undefined;
    digest: Named | undefined;
    ofDate: string | undefined;
    amount: Amount | undefined;
    money: Entry['money'];
    place: Named | undefined;
  } = {
    name: undefined,
    party: undefined,
    toLot: undefined,
    method: undefined,
    digest: undefined,
    ofDate: undefined,
    amount: undefined,
    money: undefined,
    place: undefined,
  };
  const slots = section.verb?.row.slots ?? [];
  head?.filled.forEach((value, index) => {
    if (!value) return;
    const takes = slots[index]?.takes[0] ?? 'date';
    if (value.shape === 'date') found.ofDate = value.text;
    else if (value.shape === 'amount') found.amount = amountOf(section, value, head);
    else if (value.shape === 'money') found.money = moneyOf(section, value);
    else if (takes === 'party') found.party = namedValue(section, value);
    else if (takes === 'method') found.method = namedValue(section, value);
    else if (takes === 'place') found.place = namedValue(section, value);
    else if (takes === 'label') found.digest = namedValue(section, value);
    else if (slots[index]?.lead === 'to') found.toLot = namedValue(section, value);
    else found.name ??= namedValue(section, value);
  });
  return found;
};

const amountIn = (section: Section, piece: PieceNode): Amount | undefined => {
  const value = piece.filled.find((candidate) => candidate?.shape === 'amount');
  return value?.shape === 'amount' ? amountOf(section, value, piece) : undefined;
};

const readFlows = (section: Section, spoken: readonly Spoken[], step: string | undefined): Flow[] => {
  const counts = new Map<string, number>();
  return spoken.flatMap(({ piece, said }) => {
    const word = piece.word?.text.toLowerCase();
    if (piece.kind !== 'detail' || !word || !isFlowWord(word)) return [];
    const flow = readFlow(section, piece, word, said);
    return word === 'out' && !flow.lot && !flow.none ? [{ ...flow, lot: productName(flow, step, counts) }] : [flow];
  });
};

const readFlow = (section: Section, piece: PieceNode, word: Flow['word'], said: Said): Flow => {
  const slots = piece.row?.slots ?? [];
  let lot: Value | undefined;
  let material: Value | undefined;
  let kind: string | undefined;
  piece.filled.forEach((value, index) => {
    if (value?.shape !== 'word') return;
    const takes = slots[index]?.takes[0];
    if (takes === 'lot') lot = value;
    else if (takes === 'material') material = value;
    else if (takes === 'kind') kind = value.word.text.toLowerCase();
  });
  const amount = amountIn(section, piece);
  return {
    word,
    place: placeIn(section, piece),
    lot: namedValue(section, lot),
    material: namedValue(section, material),
    amount,
    part: lot?.lead?.text.toLowerCase() === 'of',
    kind,
    none: amount?.absent === 'none',
    said: piece.scale && !said.scale ? { ...said, scale: named(section, piece.scale) } : said,
  };
};

const readGear = (section: Section, piece: PieceNode, said: Said): Gear[] => {
  const word = piece.word?.text.toLowerCase();
  const item = namedValue(section, piece.filled[0]);
  return piece.kind === 'detail' && word && isGearWord(word) && item ? [{ word, item, said }] : [];
};

/** Metals on one line are one determination, with commas or without. */
const readReadings = (section: Section, spoken: readonly Spoken[]): Entry['readings'] => {
  const lines = new Map<object, Spoken[]>();
  const lineOf = new Map(section.lines.flatMap((line) => line.pieces.map((piece) => [piece, line] as const)));
  for (const one of spoken) {
    if (one.piece.kind !== 'reading') continue;
    const line = lineOf.get(one.piece)!;
    lines.set(line, [...(lines.get(line) ?? []), one]);
  }
  return [...lines.values()].flatMap((pieces) => {
    const reading = readingOf(
      section,
      pieces.flatMap(({ piece }) => piece.readings),
    );
    return reading ? [{ reading, said: pieces.at(-1)!.said }] : [];
  });
};

const readOther = (section: Section, piece: PieceNode, said: Said): OtherDetail[] => {
  const word = piece.word?.text.toLowerCase();
  if (piece.kind !== 'detail' || !word || isFlowWord(word) || isGearWord(word)) return [];
  const values = piece.filled.filter((value) => value !== undefined);
  return [
    {
      word,
      place: placeIn(section, piece),
      names: values.flatMap((value) => namedValue(section, value) ?? []),
      amounts: values.flatMap((value) => (value.shape === 'amount' ? [amountOf(section, value, piece)] : [])),
      money: values.map((value) => moneyOf(section, value)).find((money) => money !== undefined),
      reading: readingOf(section, piece.readings),
      date: values.map((value) => (value.shape === 'date' ? value.text : undefined)).find((date) => date !== undefined),
      said,
    },
  ];
};

const readClocks = (section: Section, date: string | undefined): Clock[] => {
  let day = date;
  return section.lines.flatMap((line) => {
    if (!line.clock) return [];
    const clock = readClock(section, line.clock, day);
    day = clock.date;
    return [clock];
  });
};
