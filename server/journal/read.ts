/** An entry's section of the tree, read into the value that the engine computes with. */
import { ownTimeOf } from '../engine/clock';
import type { Amount, Clock, Entry, Flow, Gear, Named, Said } from '../engine/entry';
import type { LineNode, PieceNode, ReadingNode, Section, Value } from '../syntax/tree';
import { lean } from '../text/lists';
import { placeIn } from '../text/place';
import { isFlowWord, isGearWord } from '../vocabulary/details';
import { amountOf, moneyOf, named, namedValue, readingOf } from './amounts';
import { readClock } from './clock';
import { readOther } from './others';
import { productName } from './products';
import { addRemark, inherit, NOTHING, OF_PIECE_BEFORE, reaching, sayBoth } from './said';

/** A piece with what was said of it; entry-wide remarks come later. */
interface Spoken {
  readonly piece: PieceNode;
  said: Said;
}

interface Gathered {
  readonly spoken: Spoken[];
  ofEntry: Said;
}

/** Reads one entry under its day. `time` is the last clock time above it on that day. */
export const readEntry = (section: Section, date: string | undefined, time: string | undefined): Entry => {
  const gathered = gather(section);
  const head = section.lines[0]?.pieces[0];
  const { place: countPlace, ...slots } = headSlots(section, head);
  const ofEntry = reaching(gathered.ofEntry);
  const spoken = gathered.spoken.map(({ piece, said }) => ({ piece, said: inherit(ofEntry, said) }));
  const clocks = readClocks(section, date);
  const leaders = leadersOf(section);
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
    time: ownTimeOf(clocks, date) ?? time,
    prefix: prefixOf(section),
    verb: section.verb?.row.word ?? '',
    verbPlace: placeIn(section, section.verb?.node ?? { start: 0, end: 0 }),
    ...slots,
    amount: slots.amount ?? amounts[0]?.amount,
    amounts: lean(amounts),
    flows: lean(readFlows(section, spoken, slots.name?.name)),
    gear: lean(spoken.flatMap(({ piece, said }) => readGear(section, piece, said))),
    clocks: lean(clocks),
    readings: lean(readReadings(section, spoken, leaders)),
    others: lean(spoken.flatMap(({ piece, said }) => readOther(section, piece, said, leaders.joined.get(piece) ?? []))),
    said: countPlace ? Object.assign({}, gathered.ofEntry, { at: countPlace }) : gathered.ofEntry,
    broken: section.cut || !section.verb,
  };
};

const prefixOf = (section: Section): Entry['prefix'] => {
  const word = section.prefix?.text.toLowerCase();
  return word === 'plan' || word === 'more' || word === 'correct' || word === 'void' ? word : undefined;
};

/** Sorts the pieces: what was said of a line, of a piece, or of the whole entry. */
const gather = (section: Section): Gathered => {
  const gathered: Gathered = { spoken: [], ofEntry: NOTHING };
  for (const line of section.lines) {
    const [head, ...behind] = line.pieces;
    if (line.kind !== 'head') gatherLine(section, line.pieces, false, gathered);
    else {
      if (head?.row?.word === 'note') gathered.ofEntry = addRemark(section, head, gathered.ofEntry);
      gatherLine(section, behind, true, gathered);
    }
  }
  return gathered;
};

/** A remark reaches what stands before it on its line; where nothing does, and on the head's line, the whole entry. */
const gatherLine = (section: Section, pieces: readonly PieceNode[], isHead: boolean, gathered: Gathered): void => {
  const onLine: Spoken[] = [];
  const ofLine: { readonly remark: PieceNode; readonly reaches: number }[] = [];
  for (const piece of pieces) {
    if (piece.kind !== 'remark') {
      onLine.push({ piece, said: NOTHING });
      continue;
    }
    const before = onLine.at(-1);
    if (before && OF_PIECE_BEFORE.has(piece.word!.text.toLowerCase()))
      before.said = addRemark(section, piece, before.said);
    else if (isHead || !before) gathered.ofEntry = addRemark(section, piece, gathered.ofEntry);
    else ofLine.push({ remark: piece, reaches: onLine.length });
  }
  sayOfLine(section, onLine, ofLine);
  for (const one of onLine) gathered.spoken.push(one);
};

/** From the line's end to its start, so that each remark is read once however many pieces it reaches. */
const sayOfLine = (
  section: Section,
  onLine: readonly Spoken[],
  ofLine: { readonly remark: PieceNode; readonly reaches: number }[],
): void => {
  let reaching = NOTHING;
  for (let index = onLine.length - 1; index >= 0; index--) {
    while ((ofLine.at(-1)?.reaches ?? 0) > index)
      reaching = sayBoth(addRemark(section, ofLine.pop()!.remark, NOTHING), reaching);
    onLine[index]!.said = sayBoth(onLine[index]!.said, reaching);
  }
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
    said: piece.scale && !said.scale ? Object.assign({}, said, { scale: named(section, piece.scale) }) : said,
  };
};

const readGear = (section: Section, piece: PieceNode, said: Said): Gear[] => {
  const word = piece.word?.text.toLowerCase();
  const item = namedValue(section, piece.filled[0]);
  return piece.kind === 'detail' && word && isGearWord(word) && item ? [{ word, item, said }] : [];
};

/** Metals on one line are one determination, with commas or without. Behind `expect`, `claim` and `stamp` they go on with that. */
const readReadings = (section: Section, spoken: readonly Spoken[], leaders: Leaders): Entry['readings'] => {
  const determinations = new Map<object, { readonly pieces: PieceNode[]; said: Said }>();
  for (const { piece, said } of spoken) {
    const leader = leaders.of.get(piece);
    if (piece.kind !== 'reading' || !leader || 'row' in leader) continue;
    const same = determinations.get(leader);
    if (same) {
      same.pieces.push(piece);
      same.said = said;
    } else determinations.set(leader, { pieces: [piece], said });
  }
  return [...determinations.values()].flatMap(({ pieces, said }) => {
    const reading = readingOf(
      section,
      pieces.flatMap(({ readings }) => readings),
    );
    return reading ? [{ reading, said }] : [];
  });
};

/** What each reading goes on with: the line that it stands on, or the `expect`, `claim` or `stamp` before it. */
interface Leaders {
  readonly of: Map<PieceNode, PieceNode | LineNode>;
  /** The other way round. */
  readonly joined: Map<object, ReadingNode[]>;
}

const leadersOf = (section: Section): Leaders => {
  const leaders: Leaders = { of: new Map(), joined: new Map() };
  for (const line of section.lines) {
    let leader: PieceNode | LineNode = line;
    for (const piece of line.pieces) {
      if (piece.row?.slots.some(({ takes }) => takes.includes('reading'))) leader = piece;
      else if (piece.kind !== 'reading') leader = line;
      else {
        leaders.of.set(piece, leader);
        leaders.joined.set(leader, joinTo(leaders.joined.get(leader) ?? [], piece.readings));
      }
    }
  }
  return leaders;
};

const joinTo = (list: ReadingNode[], more: readonly ReadingNode[]): ReadingNode[] => {
  for (const reading of more) list.push(reading);
  return list;
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
