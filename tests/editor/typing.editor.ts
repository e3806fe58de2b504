/** A line typed key by key, looked at in every frame; and a name that stands on two pages, called otherwise. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import {
  atRest,
  command,
  type Editor,
  goToEndOfLine,
  openFile,
  PICTURES,
  picture,
  startEditor,
  untilLine,
  waitFor,
} from './editor';

const MAY = `2026-05-04

receive A1
  61.37 g on bench

melt M1
  in A1 61.37 g on bench
  add borax-glass 20 g
  out B1 58.16 g button on bench

cupel K1
  in B1 58.61 g on bench
  out C1 54.73 g bead on bench

sample C1
  out C1q 0.210 g drillings
`;

const JUNE = `2026-06-02

weigh C1 54.52 g on bench

cast T1
  in C1 54.25 g on bench
  out T1b 54.20 g bar on bench
`;

const WORKSHOP = 'shop:\n  name: Tarn End\nscales:\n  bench: 0.01 g\n';

const SQUIGGLES = `document.querySelectorAll('.squiggly-warning, .squiggly-error, .squiggly-info').length`;

let editor: Editor;
let folder = '';

const writePages = (): void => {
  writeFileSync(join(folder, 'may.melt'), MAY);
  writeFileSync(join(folder, 'june.melt'), JUNE);
};

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'fineweight-typing-'));
  for (const [name, text] of [
    ['may.melt', MAY],
    ['june.melt', JUNE],
    ['workshop.yaml', WORKSHOP],
  ] as const)
    writeFileSync(join(folder, name), text);
  editor = await startEditor(folder);
  await openFile(editor, 'may.melt');
  await waitFor(editor.page, `${SQUIGGLES} > 0`, 60_000);
  await untilLine(editor, 'base metal gone');
});

afterEach(async ({ task }) => {
  if (task.result?.state !== 'fail') return;
  await picture(editor, `failed-${task.name.slice(0, 40)}`);
  for (let boxes = 0; boxes < 3; boxes++) await editor.page.keyboard.press('Escape');
  await editor.page.evaluate(
    `[...document.querySelectorAll('.bulk-edit-panel .monaco-button')].find((one) => one.textContent === 'Discard')?.click()`,
  );
  await openFile(editor, 'may.melt');
  await command(editor, 'File: Revert File');
});

afterAll(async () => {
  await editor?.close();
  rmSync(folder, { recursive: true, force: true });
});

interface Recording {
  readonly frames: number;
  readonly milliseconds: number;
  /** Lines, with their hints, and marks of findings that were looked at: where they stood before the first key. */
  readonly watched: readonly string[];
  /** What was missing, or stood elsewhere, in some frame. */
  readonly changed: readonly { readonly frame: number; readonly what: string }[];
}

/** From now on looks in every frame at all that stands outside of one entry: each line with its hint, each mark of a finding, and where. */
const RECORD = `(() => {
  const shown = () => {
    const lines = [...document.querySelectorAll('.editor-instance .view-lines .view-line')]
      .map((line) => ({ text: line.textContent.replaceAll('\\u00a0', ' '), box: line.getBoundingClientRect() }))
      .sort((a, b) => a.box.top - b.box.top);
    const start = lines.findIndex(({ text }) => text.startsWith('melt M1'));
    const end = lines.findIndex(({ text }) => text.startsWith('cupel K1'));
    const top = lines[start].box.top, bottom = lines[end].box.top;
    const marks = [...document.querySelectorAll('.squiggly-warning, .squiggly-error, .squiggly-info')]
      .map((mark) => ({ text: mark.className, box: mark.getBoundingClientRect() }));
    return [...lines, ...marks]
      .filter(({ box }) => box.top < top - 1 || box.top >= bottom - 1)
      .map(({ text, box }) => text.trimEnd() + ' @ ' + Math.round(box.left) + ',' + Math.round(box.top));
  };
  const watched = shown().filter((one) => !one.startsWith(' @'));
  const begun = performance.now();
  window.recording = { frames: 0, milliseconds: 0, watched, changed: [] };
  const look = () => {
    const { recording } = window;
    recording.frames++;
    recording.milliseconds = Math.round(performance.now() - begun);
    const now = new Set(shown());
    for (const what of watched) if (!now.has(what)) recording.changed.push({ frame: recording.frames, what });
    if (!recording.ended) requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
})()`;

test('while a line is typed, nothing of any other entry blinks or moves', async () => {
  await goToEndOfLine(editor, 8);
  await editor.page.keyboard.press('Enter');
  await atRest(editor);
  await editor.page.keyboard.type('n');
  await editor.page.keyboard.press('Escape');
  await editor.page.keyboard.press('Backspace');
  await atRest(editor);
  await editor.page.evaluate(RECORD);
  const keys = 'add silica 12.5 g on bench';
  for (const key of keys) await editor.page.keyboard.type(key, { delay: 90 });
  await untilLine(editor, `  ${keys}`);
  const recording = await editor.page.evaluate<Recording>('((window.recording.ended = true), window.recording)');
  mkdirSync(PICTURES, { recursive: true });
  writeFileSync(join(PICTURES, 'typing.json'), `${JSON.stringify({ keys, ...recording }, null, 2)}\n`);
  await picture(editor, 'typing');
  expect(recording.watched.filter((one) => one.startsWith('cdr squiggly')).length).toBeGreaterThan(0);
  expect(recording.watched.filter((one) => /base metal gone/.test(one)).length).toBe(1);
  expect(recording.frames).toBeGreaterThan(2 * keys.length);
  expect(recording.changed).toEqual([]);
  await editor.page.keyboard.press('Escape');
  await command(editor, 'File: Revert File');
  await waitFor(editor.page, `!document.querySelector('.tab.active.dirty')`);
});

/** The boxes of the files, each of which is that of all its lines. */
const BOXES = `[...document.querySelectorAll('.bulk-edit-panel .monaco-list-row[aria-level="1"] .edit-checkbox')]`;
const PLACES = `${BOXES}.map((box) => box.getBoundingClientRect()).map(({ left, top, width, height }) => ({ x: left + width / 2, y: top + height / 2 }))`;
const APPLY = `[...document.querySelectorAll('.bulk-edit-panel .monaco-button')].find((one) => one.textContent === 'Apply').click()`;

test('a new name goes to both pages, once it has been looked at', async () => {
  writePages();
  await untilLine(editor, 'sample C1');
  await goToEndOfLine(editor, 13);
  await editor.page.keyboard.press('Home');
  for (let step = 0; step < 4; step++) await editor.page.keyboard.press('ArrowRight');
  await editor.page.keyboard.press('F2');
  await waitFor(editor.page, `!!document.activeElement?.closest('.rename-box')`);
  await editor.page.keyboard.press('Control+A');
  await editor.page.keyboard.type('TE-bead');
  await editor.page.keyboard.press('Enter');
  await waitFor(editor.page, `!!document.querySelector('.bulk-edit-panel')?.textContent.includes('june.melt')`);
  await picture(editor, 'rename-looked-at');
  // The editor leaves what is to be looked at without a tick.
  const boxes = await editor.page.evaluate<{ x: number; y: number }[]>(PLACES);
  expect(boxes.length).toBe(2);
  for (const { x, y } of boxes) await editor.page.mouse.click(x, y);
  await picture(editor, 'rename-ticked');
  await editor.page.evaluate(APPLY);
  await untilLine(editor, 'sample TE-bead');
  await openFile(editor, 'june.melt');
  await untilLine(editor, 'weigh TE-bead');
  await untilLine(editor, '  in TE-bead');
  await picture(editor, 'renamed');
  // The editor saves what it has renamed.
  const saved = (name: string): string => readFileSync(join(folder, name), 'utf8');
  await waitFor(editor.page, `!document.querySelector('.tab.dirty')`);
  expect(saved('june.melt')).toBe(JUNE.replaceAll(/\bC1\b/g, 'TE-bead'));
  expect(saved('may.melt')).toBe(MAY.replaceAll(/\bC1\b/g, 'TE-bead'));
});
