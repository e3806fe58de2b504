/** Ever wider selections about an offset: word, amount or name, piece, line, entry, day, page. */
import type { JournalPage } from '../journal/page';
import type { Section } from '../syntax/tree';
import type { Span } from '../text/span';
import { targetAt } from './hover/target';

/** From the narrowest to the widest, each within the next. */
export const selectionsAt = ({ page }: JournalPage, offset: number): readonly Span[] => {
  const section = page.sections.findLast((one) => page.starts.get(one)! <= offset);
  const all: Span = { start: 0, end: page.text.length };
  if (!section) return [all];
  const start = page.starts.get(section)!;
  const inSection = narrow(section, offset - start).map((span) => ({
    start: span.start + start,
    end: span.end + start,
  }));
  const own = { start, end: start + section.text.trimEnd().length };
  return nested([...inSection, own, dayAround(page, section), all], offset);
};

const narrow = (section: Section, offset: number): readonly Span[] => {
  const target = targetAt(section, offset);
  const line = section.lines.find(({ start, end }) => start <= offset && offset <= end);
  const piece = line?.pieces.find(({ start, end }) => start <= offset && offset <= end);
  const value = piece?.values.find(({ start, end }) => start <= offset && offset <= end);
  const numbers = value?.shape === 'amount' ? value.parts.flatMap((part) => [numberOf(part), part]) : [];
  return [...numbers, target, value, piece, line && { start: line.start + line.indent, end: line.end }].filter(
    (span) => span !== undefined,
  );
};

const numberOf = ({ start, text }: { readonly start: number; readonly text: string }): Span => ({
  start,
  end: start + text.length,
});

const dayAround = (page: JournalPage['page'], section: Section): Span => {
  const at = page.sections.indexOf(section);
  const first = page.sections.findLastIndex((one, index) => index <= at && one.kind === 'day');
  const next = page.sections.findIndex((one, index) => index > at && one.kind === 'day');
  const end = next < 0 ? page.text.length : page.starts.get(page.sections[next]!)!;
  const start = first < 0 ? 0 : page.starts.get(page.sections[first]!)!;
  return { start, end: start + page.text.slice(start, end).trimEnd().length };
};

const nested = (spans: readonly Span[], offset: number): readonly Span[] => {
  const holding = spans.filter(({ start, end }) => start <= offset && offset <= end);
  const sorted = [...holding].sort((a, b) => a.end - a.start - (b.end - b.start));
  return sorted.filter((span, index) => {
    const before = sorted[index - 1];
    return (
      !before ||
      ((before.start !== span.start || before.end !== span.end) && span.start <= before.start && before.end <= span.end)
    );
  });
};
