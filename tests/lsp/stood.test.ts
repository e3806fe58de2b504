/** A long page is looked at section by section, so that others are let in. */
import { expect, test } from 'vitest';
import { lookThrough, stoodFindings } from '../../server/lsp/stood';
import { findingsOf } from '../../server/rules/findings';
import { sampleWorkspace } from '../support/documents';
import { pageWorkspace } from '../support/workspace';

test('a page is looked at as far as there is time, goes on there, and says what it says at once', () => {
  const workspace = sampleWorkspace();
  const file = [...workspace.pages.keys()][0]!;
  const sections = workspace.pages.get(file)!.page.sections.length;
  let asked = 0;
  let slices = 1;
  const everyTenth = () => ++asked % 10 === 0;
  while (!lookThrough(workspace, file, 'short', everyTenth)) slices++;
  expect(slices).toBe(1 + Math.floor(sections / 10));
  expect(lookThrough(workspace, file, 'short', () => true)).toEqual(findingsOf(sampleWorkspace(), file, 'short'));
});

test('who asks meanwhile is told all at once', () => {
  const workspace = pageWorkspace('2026-05-04\nreceive A 10.00 g\nreceive A 12.00 g\nreceive A 14.00 g\n');
  expect(lookThrough(workspace, 'page.melt', 'short', () => true)).toBeUndefined();
  expect(stoodFindings(workspace, 'page.melt', 'short').map(({ code }) => code)).toEqual([
    'name-used-twice',
    'name-used-twice',
  ]);
});
