/** The canonical form built a second time, from LANGUAGE.md and the pages' text alone: nothing of the program's own reading is used. */

const NAME = String.raw`[\p{L}\p{M}\p{Nd}_]+(?:(?:[-/]|\.(?!\.))+[\p{L}\p{M}\p{Nd}_]+)*`;
const UNIT = 'ozt|dwt|kg|mg|gr|oz|lb|ct|tola|mL|cm3|min|ppm|fine|g/t|g|L|h|k|C|F';
const TOKEN = new RegExp(
  [
    '"[^"]*"',
    String.raw`\d{4}-\d{2}-\d{2}(?![\p{L}\d])`,
    String.raw`\d{1,2}:\d{2}`,
    String.raw`\d+(?:\.\d+)?(?=(?:${UNIT})(?![\p{L}\p{Nd}_./-]))`,
    String.raw`\d+(?:\.\d+)?(?![\p{L}\p{Nd}_/.-])`,
    String.raw`\d+(?:\.\d+)?(?=\.\.)`,
    NAME,
    '°[CF]',
    String.raw`\+-`,
    String.raw`\.\.`,
    String.raw`\S`,
  ].join('|'),
  'gu',
);

const words = (line: string): string => {
  const code = line.replace(/(^|\s)#(\s.*)?$/u, '');
  return (code.match(TOKEN) ?? []).join(' ');
};

interface Item {
  readonly date: string;
  readonly time: string;
  readonly page: string;
  readonly isDay: boolean;
  readonly lines: readonly string[];
}

const itemsOf = (page: string, text: string): Item[] => {
  const items: Item[] = [];
  let date = '';
  let time = '';
  for (const block of text.split(/\r\n|\n/).reduce<string[][]>((blocks, line) => {
    if (/^[^\s#]/.test(line)) blocks.push([line]);
    else blocks.at(-1)?.push(line);
    return blocks;
  }, [])) {
    const day = /^(\d{4}-\d{2}-\d{2})(.*)$/.exec(block[0]!);
    if (day) {
      [date, time] = [day[1]!, ''];
      const said = [day[2]!, ...block.slice(1)].map(words).filter((line) => line !== '');
      if (said.length > 0) items.push({ date, time: '', page, isDay: true, lines: said.map((line) => `  ${line}`) });
      continue;
    }
    const times = block
      .slice(1)
      .flatMap((line) => /^\s+(?:(\d{4}-\d{2}-\d{2}) )?(\d\d:\d\d)/.exec(line)?.slice(1, 3) ?? []);
    const clocks: { date: string; time: string }[] = [];
    let on = date;
    for (let at = 0; at < times.length; at += 2) {
      on = times[at] ?? on;
      clocks.push({ date: on, time: times[at + 1]! });
    }
    const own = clocks[0]?.time ?? time;
    for (const clock of clocks) if (clock.date === date && clock.time > time) time = clock.time;
    const lines = block.map(words).filter((line) => line !== '');
    if (/^(?:plan|seal) /.test(lines[0]!)) continue;
    items.push({
      date,
      time: own,
      page,
      isDay: false,
      lines: [lines[0]!, ...lines.slice(1).map((line) => `  ${line}`)],
    });
  }
  return items;
};

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Everything up to a day, with the lines of the workshop's things and of files given. */
export const canonicalForm = (
  pages: Readonly<Record<string, string>>,
  {
    upTo,
    after,
    before,
    files = [],
    things = [],
  }: {
    upTo: string;
    /** Date and digest of the seal before. */
    after?: string;
    /** Its date. */
    before?: string;
    files?: readonly string[];
    things?: readonly string[];
  },
): string => {
  const items = Object.entries(pages)
    .flatMap(([page, text]) => itemsOf(page, text))
    .filter(({ date }) => date <= upTo && (before === undefined || date > before))
    .map((item, place) => ({ ...item, place }))
    .sort(
      (a, b) =>
        compare(a.date, b.date) ||
        Number(b.isDay) - Number(a.isDay) ||
        compare(a.time, b.time) ||
        compare(a.page, b.page) ||
        a.place - b.place,
    );
  const lines = ['fineweight seal s1', `up to ${upTo}`, `after ${after ?? 'nothing'}`, ...files, ...things, 'record'];
  let day: string | undefined;
  for (const { date, lines: own } of items) {
    if (date !== day) lines.push(date || 'undated');
    day = date;
    lines.push(...own);
  }
  return `${lines.join('\n')}\n`;
};
