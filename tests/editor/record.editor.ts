/** The commands that hand something over: documents beside the page, a seal, the page against the last commit; in a folder that git keeps. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import {
  accept,
  command,
  type Editor,
  goToEndOfLine,
  openFile,
  picture,
  startEditor,
  untilFrame,
  untilLine,
  waitFor,
} from './editor';

const MAY = `2026-05-04

receive A1
  61.37 g on bench
  expect Au 60 %

melt M1
  in A1 61.37 g on bench
  add borax-glass 20 g
  out B1 58.16 g button on bench

cupel K1
  in B1 58.16 g on bench
  out C1 54.73 g bead on bench
`;

const WORKSHOP = `shop:
  name: Tarn End
scales:
  bench:
    division: 0.01 g
    capacity: 600 g
`;

let editor: Editor;
let folder = '';

const inGit = (...words: string[]): void => {
  execFileSync('git', ['-c', 'user.name=A', '-c', 'user.email=a@tarn-end.invalid', ...words], { cwd: folder });
};

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'fineweight-record-'));
  writeFileSync(join(folder, 'may.melt'), MAY);
  writeFileSync(join(folder, 'workshop.yaml'), WORKSHOP);
  inGit('init', '-q');
  inGit('add', '.');
  inGit('commit', '-q', '-m', 'May');
  editor = await startEditor(folder, { 'security.workspace.trust.enabled': false });
  await openFile(editor, 'may.melt');
  await untilLine(editor, 'cupel K1');
});

afterEach(async ({ task }) => {
  if (task.result?.state !== 'fail') return;
  await picture(editor, `failed-${task.name.slice(0, 40)}`);
  for (let boxes = 0; boxes < 3; boxes++) await editor.page.keyboard.press('Escape');
  await command(editor, 'View: Focus First Editor Group');
  await openFile(editor, 'may.melt');
  await command(editor, 'File: Revert File');
});

afterAll(async () => {
  await editor?.close();
  rmSync(folder, { recursive: true, force: true });
});

test('a melt sheet stands beside the page, and follows what is typed', async () => {
  await goToEndOfLine(editor, 10);
  await command(editor, 'Fineweight: Show a Document…');
  await accept(editor, 'Melt sheet');
  await accept(editor, 'Follow the cursor');
  await untilFrame(editor, '58.16 g');
  await picture(editor, 'document');
  await goToEndOfLine(editor, 8);
  await editor.page.keyboard.press('Enter');
  await editor.page.keyboard.type('add silica 7 g');
  await untilLine(editor, '  add silica 7 g');
  await untilFrame(editor, 'silica');
  await picture(editor, 'document-typing');
});

test('what is shown is kept as one file', async () => {
  const tab = await editor.page.evaluate<{ x: number; y: number }>(`(() => {
    const { left, top } = document.querySelector(${JSON.stringify(DOCUMENT_TAB)}).getBoundingClientRect();
    return { x: left + 40, y: top + 15 };
  })()`);
  await editor.page.mouse.click(tab.x, tab.y);
  await waitFor(editor.page, `!!document.querySelector('.editor-group-container.active ${DOCUMENT_TAB}')`);
  await command(editor, 'Fineweight: Save This Document As…');
  await accept(editor, 'Markdown');
  await waitFor(editor.page, `${PLACE}?.endsWith('.md')`);
  await picture(editor, 'document-save');
  await editor.page.keyboard.press('Enter');
  await untilThere(() => readdirSync(folder).some((one) => one.endsWith('.md')));
  const written = readdirSync(folder).find((one) => one.endsWith('.md'))!;
  expect(readFileSync(join(folder, written), 'utf8')).toContain('silica');
  await command(editor, 'View: Close All Editors in Group');
  await openFile(editor, 'may.melt');
  await command(editor, 'File: Revert File');
});

test('the page is told apart from the last commit by what it says', async () => {
  await openFile(editor, 'may.melt');
  await goToEndOfLine(editor, 8);
  await editor.page.keyboard.press('Enter');
  await editor.page.keyboard.type('add soda 11 g');
  await untilLine(editor, '  add soda 11 g');
  await command(editor, 'Fineweight: Compare This Page with the Last Commit');
  await untilLine(editor, '+ add soda');
  await picture(editor, 'compared');
  await command(editor, 'View: Revert and Close Editor');
  await command(editor, 'File: Revert File');
});

test('a photo that is called something else is named so on its page', async () => {
  await openFile(editor, 'may.melt');
  await goToEndOfLine(editor, 5);
  await editor.page.keyboard.press('Enter');
  await editor.page.keyboard.type('photo scale-1.jpg');
  await untilLine(editor, '  photo scale-1.jpg');
  for (const name of ['scale-1.jpg', 'ring.jpg']) rmSync(join(folder, name), { force: true });
  writeFileSync(join(folder, 'scale-1.jpg'), 'a picture');
  const row = await waitForPlace('scale-1.jpg');
  await editor.page.mouse.click(row.x, row.y);
  await waitFor(
    editor.page,
    `document.querySelector('.explorer-folders-view .focused')?.textContent.includes('scale-1')`,
  );
  await editor.page.keyboard.press('F2');
  await waitFor(editor.page, `!!document.activeElement?.closest('.explorer-item-edited')`);
  await editor.page.keyboard.press('Control+A');
  await editor.page.keyboard.type('ring.jpg');
  await editor.page.keyboard.press('Enter');
  // The editor asks whether the page is to be changed too.
  await waitFor(editor.page, `!!document.querySelector('.monaco-dialog-box')`);
  await picture(editor, 'photo-renamed');
  await editor.page.keyboard.press('Enter');
  await untilThere(() => existsSync(join(folder, 'ring.jpg')));
  await openFile(editor, 'may.melt');
  await untilLine(editor, '  photo ring.jpg');
  await command(editor, 'File: Revert File');
  await untilThere(() => readFileSync(join(folder, 'may.melt'), 'utf8') === MAY);
});

test("a seal that the editor's own git knows and that is gone is not made anew in silence", async () => {
  const head = execFileSync('git', ['rev-parse', 'HEAD'], { cwd: folder, encoding: 'utf8' }).trim();
  const once = 'seal-2026-05-20.melt';
  writeFileSync(join(folder, once), `2026-05-20\n\nseal 2026-05-20 digest s1-${'0'.repeat(64)}\n`);
  inGit('add', once);
  inGit('commit', '-q', '-m', 'sealed');
  inGit('rm', '-q', once);
  inGit('commit', '-q', '-m', 'without a word');
  await openFile(editor, 'may.melt');
  await command(editor, 'Fineweight: Seal the Record…');
  await waitFor(editor.page, `${PLACE}?.startsWith('20')`);
  await editor.page.keyboard.press('Control+A');
  await editor.page.keyboard.type('2026-05-31');
  await editor.page.keyboard.press('Enter');
  await waitFor(
    editor.page,
    `[...document.querySelectorAll('.notification-list-item')].some((one) => one.textContent.includes('was sealed up to 2026-05-20 once'))`,
  );
  await picture(editor, 'sealed-once');
  expect(existsSync(join(folder, 'seal-2026-05-31.melt'))).toBe(false);
  await command(editor, 'Notifications: Clear All Notifications');
  inGit('reset', '-q', head);
});

test('a seal is a new page, and what it closes can no longer change in silence', async () => {
  // Where this is tried again.
  rmSync(join(folder, 'seal-2026-05-31.melt'), { force: true });
  await openFile(editor, 'may.melt');
  await command(editor, 'Fineweight: Seal the Record…');
  await waitFor(editor.page, `${PLACE}?.startsWith('20')`);
  await editor.page.keyboard.press('Control+A');
  await editor.page.keyboard.type('2026-05-31');
  await picture(editor, 'seal');
  await editor.page.keyboard.press('Enter');
  await untilLine(editor, 'seal 2026-05-31 digest s1-');
  await picture(editor, 'sealed');
  await openFile(editor, 'may.melt');
  await goToEndOfLine(editor, 5);
  await editor.page.keyboard.press('Backspace');
  await editor.page.keyboard.press('Backspace');
  await editor.page.keyboard.press('Backspace');
  await editor.page.keyboard.type('1 %');
  await waitFor(editor.page, `document.querySelectorAll('.squiggly-error').length > 0`);
  await picture(editor, 'sealed-and-changed');
  await command(editor, 'File: Revert File');
  await waitFor(editor.page, `document.querySelectorAll('.squiggly-error').length === 0`);
});

test("what was changed under a seal is named by the editor's own git", async () => {
  inGit('add', '.');
  inGit('commit', '-q', '--allow-empty', '-m', 'sealed');
  await openFile(editor, 'may.melt');
  await goToEndOfLine(editor, 9);
  await editor.page.keyboard.press('Shift+Home');
  // More than one slip: its mark alone does not tell what stood there.
  await editor.page.keyboard.type('add soda-ash 11 g');
  await untilLine(editor, '  add soda-ash 11 g');
  await command(editor, 'Problems: Focus on Problems View');
  await picture(editor, 'sealed-and-not-yet-named');
  await waitFor(
    editor.page,
    `[...document.querySelectorAll('.markers-panel .monaco-list-row')].some((row) => row.textContent.includes('add borax-glass 20 g') && row.textContent.includes(' was '))`,
  );
  await picture(editor, 'sealed-and-named');
  await openFile(editor, 'may.melt');
  await command(editor, 'File: Revert File');
  await waitFor(editor.page, `document.querySelectorAll('.squiggly-error').length === 0`);
});

test('the day and the family of the lot under the cursor stand beside the page', async () => {
  await openFile(editor, 'may.melt');
  await goToEndOfLine(editor, 13);
  await editor.page.keyboard.press('Home');
  for (let step = 0; step < 5; step++) await editor.page.keyboard.press('ArrowRight');
  await command(editor, 'Fineweight: Focus on Lot Under the Cursor View');
  await waitFor(editor.page, `${ROWS}.some((row) => row.includes('A1'))`);
  await command(editor, 'Fineweight: Focus on Day View');
  await waitFor(editor.page, `${ROWS}.some((row) => row.includes('2026-05-04'))`);
  await picture(editor, 'day-and-family');
  await command(editor, 'Fineweight: Group by Place');
  await waitFor(editor.page, `${ROWS}.some((row) => row.includes('no place written'))`);
  await command(editor, 'Fineweight: Group by Owner');
  await waitFor(editor.page, `!${ROWS}.some((row) => row.includes('no place written'))`);
});

test('a document stands beside the page again when the window is loaded anew', async () => {
  await goToEndOfLine(editor, 10);
  await command(editor, 'Fineweight: Show a Document…');
  await accept(editor, 'Melt sheet');
  await accept(editor, 'Follow the cursor');
  await untilFrame(editor, '58.16 g');
  // By its own command, which keeps what there is to keep; the page is gone before the command has ended.
  await command(editor, 'Developer: Reload Window').catch(() => {});
  await waitFor(editor.page, `!!document.querySelector('.monaco-workbench .part.editor')`, 60_000);
  await untilFrame(editor, '58.16 g', 60_000);
  await picture(editor, 'document-again');
});

test('nothing else was written', () => {
  expect(readFileSync(join(folder, 'may.melt'), 'utf8')).toBe(MAY);
  expect(existsSync(join(folder, 'workshop.yaml'))).toBe(true);
});

const DOCUMENT_TAB = '.tab.active[aria-label*="Melt sheet"]';
const PLACE = `document.querySelector('.quick-input-widget input[type="text"], .quick-input-widget input:not([type])')?.value`;
const ROWS = `[...document.querySelectorAll('.pane .monaco-list-row')].map((row) => row.textContent)`;

/** The middle of a file's row in the explorer, once it is there. */
const waitForPlace = async (name: string): Promise<{ x: number; y: number }> => {
  const row = `[...document.querySelectorAll('.explorer-folders-view .monaco-list-row')].find((one) => one.textContent.includes(${JSON.stringify(name)}))`;
  await waitFor(editor.page, `!!${row}`);
  return editor.page.evaluate(`(() => {
    const { left, top, height } = ${row}.getBoundingClientRect();
    return { x: left + 60, y: top + height / 2 };
  })()`);
};

const untilThere = async (isThere: () => boolean): Promise<void> => {
  for (const end = Date.now() + 40_000; !isThere() && Date.now() < end; )
    await editor.page.evaluate('new Promise((done) => requestAnimationFrame(done))');
  expect(isThere()).toBe(true);
};
