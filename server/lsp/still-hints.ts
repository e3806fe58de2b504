/** Inlay hints while someone types: the live ones in the entry being typed, the settled ones, moved to their entries, everywhere else. */
import { type Hint, sectionHints, type WantedHints } from '../features/hints';
import { overlaps, type Span } from '../text/span';
import { sectionAt, startsToday, type View } from './stillness';
import { stoodHints } from './stood';

/** The hints in a range of today's text; offsets count in today's text. */
export const shownHints = (view: View, file: string, range: Span, wanted: WantedHints): readonly Hint[] => {
  const { typing } = view;
  const live = view.live.pages.get(file);
  if (typing?.file !== file || !live) return stoodHints(view.settled, file, range, wanted);
  const section = sectionAt(live, typing.start);
  const here = section ? sectionHints(view.live, live, section, range, wanted) : [];
  const elsewhere = settledHints(view, file, range, wanted).filter(({ offset }) => sectionAt(live, offset) !== section);
  return [...elsewhere, ...here].sort((a, b) => a.offset - b.offset);
};

const settledHints = (view: View, file: string, range: Span, wanted: WantedHints): readonly Hint[] => {
  const settled = view.settled.pages.get(file);
  if (!settled) return [];
  const today = startsToday(settled, view.live.pages.get(file)!);
  const then = settled.page.starts;
  const inRange = settled.page.sections.filter((section) => {
    const start = today.get(section);
    return start !== undefined && overlaps({ start, end: start + section.text.length }, range);
  });
  const [first, last] = [inRange[0], inRange.at(-1)];
  if (!first || !last) return [];
  const asked = { start: then.get(first)!, end: then.get(last)! + last.text.length };
  return stoodHints(view.settled, file, asked, wanted).flatMap((hint) => {
    const start = today.get(hint.entry.anchor);
    if (start === undefined) return [];
    const offset = hint.offset - (then as ReadonlyMap<object, number>).get(hint.entry.anchor)! + start;
    return range.start <= offset && offset <= range.end ? [{ ...hint, offset }] : [];
  });
};
