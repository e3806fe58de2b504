/** The same extension where there is no Node: its client and its server in workers of the browser, the files read through the editor. */
import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, afterEach, beforeAll, test } from 'vitest';
import { SLIP_PAGE } from '../support/slip-page';
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

const SAMPLES = resolve(__dirname, '../../samples/tarn-end');

/** Without its slip. */
const GOOD = SLIP_PAGE.replace('58.61', '58.16');

let editor: Editor;
let folder = '';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'fineweight-browser-'));
  cpSync(SAMPLES, folder, { recursive: true });
  writeFileSync(join(folder, 'slip.melt'), GOOD);
  editor = await startEditor(folder, { 'remote.extensionKind': { 'fineweight.fineweight': ['web'] } });
  await openFile(editor, '2026-05.melt');
});

afterEach(async ({ task }) => {
  if (task.result?.state === 'fail') await picture(editor, `failed-${task.name.slice(0, 40)}`);
});

afterAll(async () => {
  await editor?.close();
  rmSync(folder, { recursive: true, force: true });
});

test('figures stand at the ends of lines, worked out with what the workshop file says', async () => {
  // The tare is that of tray-3 in workshop.yaml, which the client has read for the worker.
  await untilLine(editor, 'tare tray-3net 347.53 g wet', 60_000);
  await picture(editor, 'in-a-browser');
});

test('it runs in a worker', async () => {
  await command(editor, 'Developer: Show Running Extensions');
  const rows = `[...document.querySelectorAll('.monaco-list-row')].map((row) => row.textContent)`;
  await waitFor(editor.page, `${rows}.some((row) => row.startsWith('Fineweight') && row.includes('web worker'))`);
  await command(editor, 'View: Revert and Close Editor');
});

test('a slip is found as it is typed', async () => {
  await openFile(editor, 'slip.melt');
  await goToEndOfLine(editor, GOOD.split('\n').findIndex((line) => line.includes('in B1')) + 1);
  for (const key of ['Home', 'End']) await editor.page.keyboard.press(key);
  for (let step = 0; step < ' g on bench'.length; step++) await editor.page.keyboard.press('ArrowLeft');
  await editor.page.keyboard.press('Backspace');
  await editor.page.keyboard.type('9');
  // Off the entry, so that it is judged.
  await goToEndOfLine(editor, 1);
  await waitFor(editor.page, `document.querySelectorAll('.squiggly-warning, .squiggly-error').length > 0`);
  await command(editor, 'File: Revert File');
  await waitFor(editor.page, `document.querySelectorAll('.squiggly-warning, .squiggly-error').length === 0`);
});

test('a document is made, by a script that is fetched when it is asked for', async () => {
  await openFile(editor, '2026-05.melt');
  await command(editor, 'Fineweight: Show a Document…');
  await accept(editor, 'Stock-take');
  await accept(editor, 'Follow the cursor');
  await untilFrame(editor, 'Melt book of Tarn End');
  await picture(editor, 'document-in-a-browser');
});
