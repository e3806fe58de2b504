/** A day below a later one, however it is written. */
import { expect, test } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import { pageWorkspace, textOf } from '../support/workspace';

test.each([
  ['2026-05-04', '2026-05-04'],
  ['2026-5-4', '2026-5-4'],
  ['4 May 2026', '4 May 2026'],
  ['Monday, 2026-05-04  dry', 'Monday, 2026-05-04'],
])('%s is pointed at as it stands', (written, marked) => {
  const workspace = pageWorkspace(`2026-05-05\nnote rain\n\n${written}`);
  const told = findingsOf(workspace, 'page.melt').find(({ code }) => code === 'day-goes-back')!;
  expect(textOf(workspace, told)).toBe(marked);
  expect(told.says).toContain('2026-05-04 stands below 2026-05-05');
});
