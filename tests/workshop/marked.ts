/** A workshop text with its expected findings in it: a comment line with carets under the place, and behind them the code.
 * A `#` that touches the carets stands for the first of them, so that the margin can be marked too. */
import { expect } from 'vitest';
import { readWorkshop, type WorkshopDocument } from '../../server/workshop/read';

const MARK = /^\s*(#\s*)(\^+) ([a-z-]+)(?:: (.*))?$/;

/** Reads the text without its marks; every mark must be found at its place, and nothing else may be found. */
export function check(marked: string): WorkshopDocument {
  const lines: string[] = [];
  const expected: { code: string; line: number; column: number; length: number; says: string | undefined }[] = [];
  for (const line of marked.split('\n')) {
    const mark = MARK.exec(line);
    if (!mark) lines.push(line);
    else {
      const touches = mark[1] === '#';
      const column = line.indexOf(touches ? '#' : '^');
      const length = mark[2]!.length + (touches ? 1 : 0);
      expected.push({ code: mark[3]!, line: lines.length - 1, column, length, says: mark[4] });
    }
  }
  const document = readWorkshop('shop/workshop.yaml', lines.join('\n'));
  const found = document.problems.map((problem) => placed(document, problem));
  const bare = expected.map(({ says, ...where }) => where);
  expect(found.map(({ says, ...where }) => where)).toEqual(bare);
  expected.forEach(({ says }, at) => {
    if (says !== undefined) expect(found[at]!.says).toContain(says);
  });
  return document;
}

function placed(document: WorkshopDocument, problem: WorkshopDocument['problems'][number]) {
  const { start, end } = problem.place;
  const before = document.text.slice(0, start).split('\n');
  const line = before.length - 1;
  const column = before[line]!.length;
  return { code: problem.code as string, line, column, length: end - start, says: problem.says };
}
