/** Something in a sealed period is not what was sealed. */
import { asSealed } from '../record/as-sealed';
import type { Break } from '../record/breaks';
import { canonicalLines } from '../record/canonical';
import { headOf, lineChanges, named, written } from '../record/changes';
import { thingLines } from '../record/shop';
import type { Section } from '../syntax/tree';
import { placeIn } from '../text/place';
import { type Fix, type Match, type RecordSubject, type Related, rule } from './rule';
import { entryWords } from './seal-words';
import { turnedWords } from './tie-words';

export const sealBroken = rule({
  code: 'seal-broken',
  severity: 'error',
  atOnce: true,
  title: 'a change in the sealed record',
  why: 'A seal closes the record up to its date: what it closes is never changed, so that it can be shown years later as it was. What turns out wrong is mended by `correct` under a later day, which keeps both readings. White space, comments and the order of pages are free. A comment cannot silence this.',
  wrong:
    '2026-05-04\nreceive A 20.10 g\n\n2026-06-01\nseal 2026-05-31 digest s1-ca8bf00c86ac16ef3a0901fbff5e61104af9a11748b07c13e9eea0bcc87fa9bf\n  marks 2026-05-04 92262dee',
  right:
    '2026-05-04\nreceive A 20.00 g\n\n2026-06-01\nseal 2026-05-31 digest s1-ca8bf00c86ac16ef3a0901fbff5e61104af9a11748b07c13e9eea0bcc87fa9bf\n  marks 2026-05-04 92262dee',
  record: function* ({ breaks, remembered }) {
    for (const one of breaks) yield told(one, remembered);
  },
});

type Remembered = RecordSubject['remembered'];

const told = (one: Break, remembered: Remembered): Match => {
  const { upTo, section } = one.seal;
  const seal = { place: one.seal.entry.head, says: `the seal of ${upTo}` };
  const related = [seal];
  switch (one.kind) {
    case 'changed':
      return { ...changed(one, upTo, remembered), related };
    case 'appeared':
      return { place: placeOf(one.at), ...appeared(one, related) };
    case 'moved': {
      const stood = one.from === one.at.date ? 'elsewhere in this day' : `under ${one.from}`;
      return {
        place: placeOf(one.at),
        says: `This stood ${stood} when the record was sealed up to ${upTo}. Put it back.`,
        related,
      };
    }
    case 'turned':
      return {
        place: placeOf(one.at),
        says: `This stood before ${entryWords(one.decided.second.entry!)} on the other page when the record was sealed up to ${upTo}; what the pages are called now puts it behind. So ${turnedWords(one.decided.story, one.decided.told)}. Give the pages their names back.`,
        related: [...related, { place: placeOf(one.decided.second), says: 'before this' }],
      };
    case 'vanished':
      return { place: one.seal.entry.head, ...gone(one, remembered) };
    case 'workshop':
      return { place: one.seal.entry.head, says: ofWorkshop(one, remembered) };
    case 'chain':
      return {
        place: one.seal.entry.head,
        says: one.named
          ? 'Every entry that this seal closes is as it was, but the seal does not hold: its own lines or the seal before it were changed.'
          : 'This seal does not hold: something that it closes was changed, and it has no marks that would say what.',
      };
    case 'marks':
      return {
        place: one.seal.entry.head,
        says: 'Every entry that this seal closes is as it was: its own `marks` were changed. Put them back.',
      };
    case 'before':
      return {
        place: one.seal.entry.head,
        says: beforeWords(one),
        ...(one.standing
          ? { related: [{ place: one.standing.entry.head, says: `the seal of ${one.standing.upTo}` }] }
          : {}),
      };
    case 'unreadable':
      return {
        place: one.seal.entry.digest?.place ?? placeIn(section, { start: 0, end: 0 }),
        says: `This is no digest of a seal. Take it out, and let \`fineweight seal ${upTo}\` write it.`,
      };
    case 'twice':
      return {
        place: one.seal.entry.head,
        says: `Two seals close the record up to ${upTo}: two hands sealed apart, and neither knew the other's entries. Take both out, and seal anew: ${anew(upTo)}.`,
        related: [{ place: one.first.entry.head, says: 'the other one' }],
      };
  }
};

const beforeWords = ({ was, standing, seal }: Extract<Break, { kind: 'before' }>): string => {
  if (!standing) return 'The seal before this one is gone. Put it back as it was: what it closed is open without it.';
  if (was === undefined)
    return `This seal was made when there was none before it: that of ${standing.upTo} came in since. If two hands sealed apart, take both out, and seal anew: ${anew(seal.upTo)}.`;
  return `This seal was made after another one than that of ${standing.upTo}: that was made anew, one between is gone, or it came in since. Put it back as it was; if two hands sealed apart, take both out, and seal anew: ${anew(seal.upTo)}.`;
};

type Appeared = Extract<Break, { kind: 'appeared' }>;

/**
 * How it came is not known here: a merge of which one side's seal was kept looks as what was written late does. So both ways on are said, and the one
 * that mends what is sealed where there is something to mend.
 */
const appeared = (one: Appeared, related: readonly Related[]): Pick<Match, 'says' | 'related' | 'fixes'> => {
  const { by, last: newest, like, at } = one;
  const { upTo } = one.seal;
  const says = `This was not there when the record was sealed up to ${upTo}`;
  if (!by) {
    const out = newest ? 'take this seal and those after it out' : 'take the seal out';
    const mend = like?.entry
      ? ` If it mends what is sealed, write \`correct ${entryWords(like.entry)}${like.date === '' ? '' : ` of ${like.date}`}\` under a later day.`
      : '';
    return {
      says: `${says}. If another hand wrote it and a merge brought it, ${out} and seal anew with both: ${anew(newest?.upTo ?? upTo)}. If it was written late, move it under a later day.${mend}`,
      related: like?.entry ? [...related, { place: like.entry.head, says: 'sealed, of the same name' }] : related,
      fixes: [...moved(one), ...(newest ? [] : [takenOut(one.seal, at)])],
    };
  }
  const last = [by.upTo, upTo].sort().at(-1)!;
  return {
    says: `${says}, but the seal of ${by.upTo} closes it: two hands sealed apart. Take both seals out, and seal anew: ${anew(last)}.`,
    related: [...related, { place: by.entry.head, says: `the seal of ${by.upTo}` }],
  };
};

/** With the day that it was of: nothing of what was written is lost. */
const moved = ({ at: { section, entry, date }, open }: Appeared): readonly Fix[] => {
  if (!open || !entry || entry.verb === 'seal') return [];
  const lines = section.text.trimEnd();
  const [lineEnd = ''] = /^(?:\r\n|\r|\n)/.exec(section.text.slice(lines.length)) ?? [];
  const note = entry.verb === 'note' ? '' : `\n  note of ${date}, written after the seal`;
  const end = open.text.trimEnd().length;
  return [
    {
      title: 'Move it under the day that is open on this page',
      edits: [
        { at: placeIn(section, { start: 0, end: lines.length + lineEnd.length }), text: '' },
        { at: placeIn(open, { start: end, end }), text: `\n${lines}${note}` },
      ],
      safe: false,
    },
  ];
};

/** It is known to git, so that the new one has to say what it stands for. */
const takenOut = ({ section, upTo }: Appeared['seal'], at: Appeared['at']): Fix => ({
  title: `Take the seal of ${upTo} out, to seal anew with ${at.entry ? entryWords(at.entry) : 'this'}`,
  edits: [{ at: placeIn(section, { start: 0, end: section.text.length }), text: '' }],
  safe: false,
});

type Vanished = Extract<Break, { kind: 'vanished' }>;

const gone = ({ gone: all }: Vanished, remembered: Remembered): Pick<Match, 'says' | 'related'> => {
  const [first] = all;
  const behind = all.length === 1 ? first?.behind?.entry : undefined;
  const names = named(all.flatMap(({ mark }) => headOf(remembered.get(mark)) ?? []));
  const related = behind ? { related: [{ place: behind.head, says: 'it stood behind this' }] } : {};
  if (all.length > 1) {
    const what = names === undefined ? '' : `: ${names}`;
    const days = daysWords(all.map(({ day }) => day));
    return {
      says: `${all.length} entries ${days} are gone that were sealed here${what}. Put them back as they were.`,
      ...related,
    };
  }
  const where = behind ? `, behind ${entryWords(behind)},` : '';
  return {
    says: `${names ?? 'An entry'} of ${first!.day}${where} is gone that was sealed here. Put it back as it was.`,
    ...related,
  };
};

type OfWorkshop = Extract<Break, { kind: 'workshop' }>;

const ofWorkshop = ({ seal, thing, mark }: OfWorkshop, remembered: Remembered): string => {
  const then = mark === undefined ? undefined : remembered.get(mark);
  const name = (then?.[0] ?? '').replace(/^workshop /, '');
  if (!thing)
    return `In the workshop file ${then ? name : 'something that sealed entries rest on'} is gone or not what was sealed here. Put it back as it was.`;
  const is = `${thing.section} ${thing.name}`;
  const changes = then && name === is ? lineChanges(then.slice(1), thingLines(thing, seal.upTo).slice(1)) : undefined;
  const what = changes === undefined ? '' : `: ${changes}`;
  return `In the workshop file ${is} is not what was sealed here${what}. Put its values back, and give what is new a name of its own.`;
};

const daysWords = (days: readonly string[]): string =>
  days[0] === days.at(-1) ? `of ${days[0]}` : `from ${days[0]} to ${days.at(-1)}`;

/** The new one names those that it stands for. */
const anew = (upTo: string): string => `\`fineweight seal ${upTo} --because "two hands sealed apart"\``;

type Changed = Extract<Break, { kind: 'changed' }>;

/** With how it read then, where its mark or an older text tells that. */
const changed = ({ at, mark }: Changed, upTo: string, remembered: Remembered): Match => {
  const { section } = at;
  const then = asSealed(section, mark);
  const mend = mendWords(at);
  if (!then) {
    const lines = remembered.get(mark);
    const changes = lines && lineChanges(lines, canonicalLines(section));
    const what = changes === undefined ? '' : `: ${changes}`;
    return { place: placeOf(at), says: `This is not what was sealed up to ${upTo}${what}. ${mend}` };
  }
  const place = placeIn(section, then.line);
  switch (then.kind) {
    case 'read': {
      const line = written(then.text);
      return {
        place,
        says: `This is not what was sealed up to ${upTo}: that read \`${line}\`. ${mend}`,
        ...(then.word ? { fixes: [writeBack(section, then.word)] } : {}),
      };
    }
    case 'added':
      return { place, says: `This line was not there when the record was sealed up to ${upTo}. ${mend}` };
    case 'swapped':
      return {
        place,
        says: `This line stood below the next when the record was sealed up to ${upTo}. ${mend}`,
      };
  }
};

const writeBack = (section: Section, { text, ...span }: { start: number; end: number; text: string }): Fix => ({
  title: `Write ${text} here, as it was sealed`,
  edits: [{ at: placeIn(section, span), text }],
  safe: false,
  preferred: true,
});

const placeOf = ({ entry, section }: Changed['at']) =>
  entry?.head ?? placeIn(section, { start: 0, end: section.lines[0]?.end ?? 0 });

const mendWords = ({ entry, date }: Changed['at']): string =>
  entry?.name && !entry.prefix
    ? `Undo the change; under a later day write \`correct ${entryWords(entry)} of ${date}${entry.method ? ` by ${entry.method.name}` : ''}\`.`
    : 'Undo the change; say under a later day what is right.';
