/** The packed extension in a real editor, in restricted mode, as someone at the bench would use it. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import {
  atRest,
  command,
  type Editor,
  goToEndOfLine,
  lines,
  openFile,
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
`;

const WORKSHOP = `shop:
  name: Tarn End
scales:
  bench:
    division: 0.01 g
    capacity: 600 g
`;

const PROBLEMS = `document.querySelector('[id="status.problems"]')?.textContent`;
const squiggles = `document.querySelectorAll('.squiggly-warning, .squiggly-error, .squiggly-info').length`;

describe('in the editor', () => {
  let editor: Editor;
  let folder = '';
  /** The count of findings of the page as it is on the disk. */
  let atFirst = '';

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'fineweight-journal-'));
    writeFileSync(join(folder, 'may.melt'), MAY);
    writeFileSync(join(folder, 'workshop.yaml'), WORKSHOP);
    editor = await startEditor(folder);
    await openFile(editor, 'may.melt');
    await waitFor(editor.page, `${squiggles} > 0 && !!${PROBLEMS}`, 60_000);
    atFirst = await problems();
  });

  afterEach(async ({ task }) => {
    if (task.result?.state !== 'fail') return;
    await picture(editor, `failed-${task.name.slice(0, 40)}`);
    // One failure is one: the next test finds the page as this one found it.
    for (let boxes = 0; boxes < 3; boxes++) await editor.page.keyboard.press('Escape');
    await revert();
  });

  afterAll(async () => {
    await editor?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('figures stand whole at the ends of lines, and in no other place', async () => {
    const typed = MAY.split('\n');
    await waitFor(editor.page, `document.querySelectorAll('.view-line').length >= ${typed.length - 1}`);
    await hintsThere();
    const seen = await lines(editor);
    for (const [index, line] of seen.entries()) expect(line.startsWith(typed[index]!)).toBe(true);
    const figures = seen.map((line, index) => line.slice(typed[index]!.length)).filter((one) => one.trim() !== '');
    expect(figures.length).toBeGreaterThan(0);
    for (const figure of figures) {
      expect(figure.trim().length).toBeLessThanOrEqual(40);
      expect(figure).not.toContain('…');
    }
    await picture(editor, 'page');
  });

  test('a finding is put right by one key', async () => {
    await goToEndOfLine(editor, 12);
    await editor.page.keyboard.press('Home');
    await command(editor, 'Go to Next Problem in Files');
    await waitFor(editor.page, `!!document.querySelector('.peekview-widget, .zone-widget')`);
    await picture(editor, 'problem');
    await editor.page.keyboard.press('Escape');
    await editor.page.keyboard.press('Control+.');
    await waitFor(editor.page, `!!document.querySelector('.action-widget .monaco-list-row')`);
    await picture(editor, 'quick-fix');
    await editor.page.keyboard.press('Enter');
    await waitFor(editor.page, `${squiggles} === 0`);
    await picture(editor, 'fixed');
    await revert();
    await waitFor(editor.page, `${squiggles} > 0`);
  });

  test('the pointer over a name tells its story', async () => {
    const told = `[...document.querySelectorAll('.monaco-hover')].some((one) => one.textContent.includes('B1'))`;
    // A hint that comes while the pointer rests moves the line, and the editor forgets the pointer: a hand moves it again.
    for (let tries = 0; tries < 10 && !(await editor.page.evaluate<boolean>(told)); tries++) {
      const place = await editor.page.evaluate<{ x: number; y: number }>(PLACE_OF('B1'));
      await editor.page.mouse.move(place.x + (tries % 2), place.y);
      await waitFor(editor.page, told, 2000).catch(() => undefined);
    }
    expect(await editor.page.evaluate<boolean>(told)).toBe(true);
    await picture(editor, 'hover');
    await editor.page.mouse.move(5, 5);
  });

  test('a workshop file rewritten by another program is taken in', async () => {
    writeFileSync(join(folder, 'workshop.yaml'), `${WORKSHOP}    colour: red\n`);
    await waitFor(editor.page, `${PROBLEMS} !== ${JSON.stringify(atFirst)}`);
    writeFileSync(join(folder, 'workshop.yaml'), WORKSHOP);
    await waitFor(editor.page, `${PROBLEMS} === ${JSON.stringify(atFirst)}`);
  });

  test('hints go and come by the command, and the server starts again', async () => {
    await goToEndOfLine(editor, 1);
    await hintsThere();
    const shown = await lines(editor);
    await command(editor, 'Fineweight: Toggle Hints');
    await waitFor(editor.page, `window.linesNow().includes('cupel K1')`);
    await command(editor, 'Fineweight: Toggle Hints');
    await waitFor(editor.page, `window.linesNow().join('\\n') === ${JSON.stringify(shown.join('\n'))}`);
    await command(editor, 'Fineweight: Restart Server');
    await waitFor(
      editor.page,
      `window.linesNow().join('\\n') === ${JSON.stringify(shown.join('\n'))} && ${squiggles} > 0`,
      30_000,
    );
  });

  test('Enter indents below an entry, and leaves the entry on a blank line', async () => {
    await goToEndOfLine(editor, 13);
    await editor.page.keyboard.press('Enter');
    await atRest(editor);
    await editor.page.keyboard.press('Enter');
    await editor.page.keyboard.type('note done');
    await waitFor(editor.page, `window.linesNow().some((line) => line.startsWith('note done'))`);
    await atRest(editor);
    await editor.page.keyboard.press('Enter');
    await editor.page.keyboard.type('x');
    await waitFor(editor.page, `window.linesNow().some((line) => line.startsWith('  x'))`);
    await revert();
  });

  test('behind `in` the lots on hand are offered, with their weight', async () => {
    await goToEndOfLine(editor, 13);
    await editor.page.keyboard.press('Enter');
    await atRest(editor);
    await editor.page.keyboard.type('in');
    await editor.page.keyboard.press('Escape');
    await editor.page.keyboard.type(' ');
    await waitFor(
      editor.page,
      `document.querySelector('.suggest-widget.visible .monaco-list-row')?.textContent.includes('58.16 g button')`,
    );
    await picture(editor, 'completion');
    await editor.page.keyboard.press('Escape');
    await revert();
  });

  test('a plan is worked out, and written in by one key', async () => {
    await goToEndOfLine(editor, 14);
    await editor.page.keyboard.press('Control+End');
    await editor.page.keyboard.type('\nplan cupel K2\n');
    await atRest(editor);
    await editor.page.keyboard.type('in A9 20 g');
    await editor.page.keyboard.press('Escape');
    await goToEndOfLine(editor, 16);
    await untilLine(editor, 'plan cupel K2');
    await waitFor(editor.page, `window.linesNow().some((line) => /^plan cupel K2.*lead/.test(line))`);
    await picture(editor, 'plan');
    await editor.page.keyboard.press('Control+.');
    await waitFor(editor.page, `!!document.querySelector('.action-widget .monaco-list-row')`);
    await picture(editor, 'plan-fix');
    await editor.page.keyboard.press('Enter');
    await untilLine(editor, '  add lead ~');
    await picture(editor, 'plan-written');
    await revert();
  });

  test('a new name goes to every place', async () => {
    await goToEndOfLine(editor, 9);
    await editor.page.keyboard.press('Home');
    for (let step = 0; step < 4; step++) await editor.page.keyboard.press('ArrowRight');
    await editor.page.keyboard.press('F2');
    // The box is there a moment before it has the keyboard; keys sent too early would go to the page.
    await waitFor(editor.page, `!!document.activeElement?.closest('.rename-box')`);
    await picture(editor, 'rename');
    await editor.page.keyboard.press('Control+A');
    await editor.page.keyboard.type('TE-button');
    await editor.page.keyboard.press('Enter');
    await waitFor(editor.page, `window.linesNow().filter((line) => line.includes('TE-button')).length === 2`);
    await revert();
  });

  test('a page is formatted', async () => {
    await goToEndOfLine(editor, 4);
    await editor.page.keyboard.type('   ');
    await command(editor, 'Format Document');
    await waitFor(
      editor.page,
      `window.linesNow()[3]?.startsWith('  61.37 g on bench') && !/ {3}/.test(window.linesNow()[3].slice(0, 22))`,
    );
    await revert();
  });

  test('what is on hand stands beside the page', async () => {
    await command(editor, 'Fineweight: Focus on On Hand View');
    await waitFor(
      editor.page,
      `[...document.querySelectorAll('.pane .monaco-list-row')].some((row) => row.textContent.includes('C1'))`,
    );
    await picture(editor, 'on-hand');
    await openFile(editor, 'may.melt');
  });

  test('no file was changed', () => {
    expect(readFileSync(join(folder, 'may.melt'), 'utf8')).toBe(MAY);
    expect(readFileSync(join(folder, 'workshop.yaml'), 'utf8')).toBe(WORKSHOP);
  });

  const revert = async (): Promise<void> => {
    await command(editor, 'File: Revert File');
    await waitFor(editor.page, `!document.querySelector('.tab.active.dirty')`);
    // What was said of the text that is gone must be gone too: the next test goes by the problems.
    await waitFor(editor.page, `${PROBLEMS} === ${JSON.stringify(atFirst)}`);
  };

  const problems = (): Promise<string> => editor.page.evaluate<string>(PROBLEMS);

  const hintsThere = async (): Promise<void> => {
    await editor.page.evaluate(LINES_NOW);
    await waitFor(
      editor.page,
      `window.linesNow().some((line) => line.startsWith('cupel K1') && line.length > 'cupel K1'.length)`,
    );
  };
});

const LINES_NOW = `window.linesNow = () => [...document.querySelectorAll('.editor-instance .view-lines .view-line')]
  .sort((a, b) => parseFloat(a.style.top) - parseFloat(b.style.top))
  .map((line) => line.textContent.replaceAll('\\u00a0', ' '))`;

/** The middle of the first word on the screen that is a given text. */
const PLACE_OF = (word: string): string => `(() => {
  const line = [...document.querySelectorAll('.view-line')].find((one) => one.textContent.includes(${JSON.stringify(word)}));
  const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const at = node.data.indexOf(${JSON.stringify(word)});
    if (at < 0) continue;
    const range = document.createRange();
    range.setStart(node, at);
    range.setEnd(node, at + ${word.length});
    const { left, right, top, bottom } = range.getBoundingClientRect();
    return { x: (left + right) / 2, y: (top + bottom) / 2 };
  }
})()`;
