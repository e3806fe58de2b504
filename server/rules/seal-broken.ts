/** Something in a sealed period is not what was sealed. */
import { asSealed } from '../record/as-sealed';
import type { Break } from '../record/breaks';
import type { Section } from '../syntax/tree';
import { placeIn } from '../text/place';
import { type Fix, type Match, rule } from './rule';
import { entryWords } from './seal-words';

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
  record: function* ({ breaks }) {
    for (const one of breaks) yield told(one);
  },
});

const told = (one: Break): Match => {
  const { upTo, section } = one.seal;
  const seal = { place: one.seal.entry.head, says: `the seal of ${upTo}` };
  const related = [seal];
  switch (one.kind) {
    case 'changed':
      return { ...changed(one, upTo), related };
    case 'appeared':
      return {
        place: placeOf(one.at),
        says: `This was not there when the record was sealed up to ${upTo}. Write it under a later day.`,
        related,
      };
    case 'moved': {
      const stood = one.from === one.at.date ? 'elsewhere in this day' : `under ${one.from}`;
      return {
        place: placeOf(one.at),
        says: `This stood ${stood} when the record was sealed up to ${upTo}. Put it back.`,
        related,
      };
    }
    case 'vanished': {
      const behind = one.behind?.entry ? `, behind ${entryWords(one.behind.entry)},` : '';
      return {
        place: one.seal.entry.head,
        says: `An entry of ${one.day}${behind} is gone that was sealed here. Put it back as it was.`,
        ...(one.behind?.entry ? { related: [{ place: one.behind.entry.head, says: 'it stood behind this' }] } : {}),
      };
    }
    case 'workshop': {
      const { thing } = one;
      const what = thing ? `${thing.section} ${thing.name} is` : 'something that sealed entries name is';
      return {
        place: one.seal.entry.head,
        says: `In the workshop file ${what} not what was sealed here. Put its values back, and give what is new a name of its own.`,
      };
    }
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
  return `This seal was made after another one than that of ${standing.upTo}: that was made anew, one between is gone, or it came in since. Put it back as it was.`;
};

/** The new one names those that it stands for. */
const anew = (upTo: string): string => `\`fineweight seal ${upTo} --because "two hands sealed apart"\``;

type Changed = Extract<Break, { kind: 'changed' }>;

/** With how it read then, where its mark tells that. */
const changed = ({ at, mark }: Changed, upTo: string): Match => {
  const { section } = at;
  const then = asSealed(section, mark);
  const mend = mendWords(at);
  if (!then) return { place: placeOf(at), says: `This is not what was sealed up to ${upTo}. ${mend}` };
  const place = placeIn(section, then.line);
  switch (then.kind) {
    case 'read': {
      const line = then.text.trim().replaceAll(' ,', ',');
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
    ? `Undo the change; under a later day write \`correct ${entryWords(entry)} of ${date}\`.`
    : 'Undo the change; say under a later day what is right.';
