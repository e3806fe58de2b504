/** A scale that reads a check weight wrong: what was weighed on it since it last read right stands beside the finding. */
import { expect, test } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { locate } from '../../server/workspace/workspace';
import { workspaceOf } from '../support/workspace';

const WORKSHOP = 'scales:\n  bench: 0.01 g\n  fine: 0.001 g\n';

const APRIL = `2026-04-28
receive A 20.00 g on bench
check-scale bench 100 g, reads 100.00 g
receive B 30.00 g on bench
`;

const MAY = `2026-05-05
melt M1, on bench
  in A 20.00 g
  in B 30.00 g on fine
  out C 49.99 g button
check-scale bench 100 g, reads 100.20 g
receive D 40.00 g on bench
`;

const besides = (pages: Record<string, string>) => {
  const workspace = workspaceOf({ ...pages, 'workshop.yaml': WORKSHOP });
  const [off] = findingsOf(workspace, 'may.melt', 'short').filter(({ code }) => code === 'scale-off');
  return off?.related?.slice(1).map(({ says, place }) => {
    const { file, start, end } = locate(workspace, place);
    return `${file} ${workspace.pages.get(file)!.page.text.slice(start, end)}: ${says}`;
  });
};

test('names the last check that was right, and each weight read since', () => {
  expect(besides({ 'april.melt': APRIL, 'may.melt': MAY })).toEqual([
    'april.melt bench: bench last read right here',
    'april.melt 30.00 g: weighed on it since',
    'may.melt 20.00 g: weighed on it since',
    'may.melt 49.99 g: weighed on it since',
  ]);
});

test('all that was ever read, where no check was right; the first eight, and how many more', () => {
  const many = Array.from({ length: 12 }, (_, at) => `receive E${at} 2${at}.00 g on bench`).join('\n');
  const found = besides({ 'april.melt': `2026-04-01\n${many}\n`, 'may.melt': MAY })!;
  expect(found.length).toBe(8);
  expect(found.at(-1)).toBe('april.melt 27.00 g: weighed on it since, and 6 more');
});

test('a slip in the figures is told without idle noughts', () => {
  const workspace = workspaceOf({
    'may.melt': '2026-05-05\ncheck-scale bench 100 kg, reads 100.00 g\n',
    'workshop.yaml': WORKSHOP,
  });
  expect(findingsOf(workspace, 'may.melt').map(({ says }) => says.slice(0, 54))).toContain(
    'bench shows 99900 g less than the check weight. Look a',
  );
});
