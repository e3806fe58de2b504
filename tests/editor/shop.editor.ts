/** The samples in a real editor: how they look in three themes, how long the extension takes to start, and what a page written in malice can do. */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { SLIP_PAGE } from '../support/slip-page';
import {
  atRest,
  command,
  type Editor,
  goToEndOfLine,
  openFile,
  picture,
  type Settings,
  startEditor,
  untilLine,
  waitFor,
} from './editor';

const SAMPLES = resolve(__dirname, '../../samples/tarn-end');

const HOSTILE = `2026-07-01

receive "<img src=x onerror=alert(1)>" 12.00 g on bench
  note [click](command:workbench.action.terminal.new) <script>window.stolen = 1</script> ![](http://evil.invalid/a.png)
  photo ../../../../etc/passwd

weigh "<img src=x onerror=alert(1)>" 13.00 g on bench
`;

/** Three rows that begin so, with how long each took to wake. */
const RUNNING = `[...document.querySelectorAll('.monaco-list-row')].map((row) => row.textContent)`;

let editor: Editor;
let folder = '';
const requests: string[] = [];

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'fineweight-shop-'));
  cpSync(SAMPLES, folder, { recursive: true });
  writeFileSync(join(folder, 'slip.melt'), SLIP_PAGE);
  writeFileSync(join(folder, 'untidy.melt'), '2026-07-02\nreceive  Z1   5.00 g\n\n\n\nnote   end\n');
  writeFileSync(join(folder, 'hostile.melt'), HOSTILE);
  await begin({ '[melt]': { 'editor.formatOnSave': true } });
});

const begin = async (settings: Settings): Promise<void> => {
  await editor?.close();
  editor = await startEditor(folder, settings);
  editor.page.on('request', (request) => requests.push(request.url()));
  await openFile(editor, '2026-05.melt');
  await untilLine(editor, 'net 347.53 g wet', 60_000);
};

afterEach(async ({ task }) => {
  if (task.result?.state === 'fail') await picture(editor, `failed-${task.name.slice(0, 40)}`);
});

afterAll(async () => {
  await editor?.close();
  rmSync(folder, { recursive: true, force: true });
});

test('it wakes, and how soon is told beside those that come with the editor', async () => {
  await command(editor, 'Developer: Show Running Extensions');
  await waitFor(editor.page, `${RUNNING}.some((row) => /^Fineweight.*Activation: \\d+ms/.test(row))`);
  const rows = await editor.page.evaluate<string[]>(RUNNING);
  const told = rows.flatMap((row) => /^(.*?)\d+\.\d+\.\d+.*(Activation: \d+ms)/.exec(row)?.slice(1).join(' ') ?? []);
  // Printed, and judged by nothing: a time on a machine that does other work besides is no fault of what is timed.
  console.log(told.join('\n'));
  await picture(editor, 'running');
  await command(editor, 'View: Revert and Close Editor');
});

test('the way in can be followed', async () => {
  await command(editor, 'Welcome: Open Walkthrough...');
  const rows = `document.querySelector('.quick-input-list .monaco-list-row')?.textContent.includes('melt journal')`;
  await waitFor(editor.page, `document.activeElement?.placeholder === 'Select a walkthrough to open'`);
  await editor.page.keyboard.type('melt journal');
  await waitFor(editor.page, rows);
  await editor.page.keyboard.press('Enter');
  await waitFor(
    editor.page,
    `['Write the first melt', 'See the balance', 'Mend a slip', 'Get a summary'].every((step) => document.querySelector('.gettingStartedContainer')?.textContent.includes(step))`,
  );
  await picture(editor, 'walkthrough');
  await command(editor, 'View: Revert and Close Editor');
});

test('a page is put in form as it is saved, if that is wished', async () => {
  const path = join(folder, 'untidy.melt');
  await openFile(editor, 'untidy.melt');
  await goToEndOfLine(editor, 2);
  await editor.page.keyboard.type(' on bench');
  await atRest(editor);
  await editor.page.keyboard.press('Control+S');
  await waitFor(editor.page, `!document.querySelector('.tab.active.dirty')`);
  const saved = readFileSync(path, 'utf8');
  expect(saved).toMatch(/5\.00 g on bench\n\nnote/);
});

test('a page written in malice runs nothing, and reaches nothing', async () => {
  await openFile(editor, 'hostile.melt');
  await waitFor(editor.page, `document.querySelectorAll('.squiggly-warning, .squiggly-error').length > 0`);
  requests.length = 0;
  await goToEndOfLine(editor, 7);
  await editor.page.keyboard.press('Home');
  for (let step = 0; step < 8; step++) await editor.page.keyboard.press('ArrowRight');
  await command(editor, 'Show or Focus Hover');
  await waitFor(editor.page, `!!document.querySelector('.monaco-hover:not(.hidden) .hover-contents')`);
  await picture(editor, 'hostile');
  const shown = `[...document.querySelectorAll('.monaco-hover, .view-lines')]`;
  expect(await editor.page.evaluate(`${shown}.some((part) => part.querySelector('script, img, iframe'))`)).toBe(false);
  expect(
    await editor.page.evaluate(
      `${shown}.some((part) => part.querySelector('[href^="command:workbench"], [data-href^="command:workbench"]'))`,
    ),
  ).toBe(false);
  expect(await editor.page.evaluate(`window.stolen === undefined`)).toBe(true);
  expect(requests.filter((url) => url.includes('evil.invalid'))).toEqual([]);
  await editor.page.keyboard.press('Escape');
});

describe.each([
  ['light', 'Light Modern', 'vs'],
  ['dark', 'Dark Modern', 'vs-dark'],
  ['high-contrast', 'Default High Contrast', 'hc-black'],
])('in a %s theme', (name, theme, mark) => {
  test('hints, a finding with its fix, completion and the side view can be seen', async () => {
    // A picture of the shop alone.
    for (const name of ['hostile.melt', 'untidy.melt']) rmSync(join(folder, name), { force: true });
    await begin({ 'workbench.colorTheme': theme });
    await waitFor(editor.page, `!!document.querySelector('.monaco-workbench.${mark}')`);
    await goToEndOfLine(editor, 40);
    await untilLine(editor, 'melt M');
    await picture(editor, `${name}-hints`);
    await slip();
    await picture(editor, `${name}-finding`);
    await editor.page.keyboard.press('Escape');
    await offered();
    await picture(editor, `${name}-completion`);
    await editor.page.keyboard.press('Escape');
    await revert();
    await command(editor, 'Fineweight: Focus on On Hand View');
    await waitFor(editor.page, `document.querySelectorAll('.pane .monaco-list-row').length > 3`);
    await picture(editor, `${name}-on-hand`);
    expect(await paleRows()).toEqual([]);
  });
});

const revert = async (): Promise<void> => {
  await command(editor, 'File: Revert File');
  await waitFor(editor.page, `!document.querySelector('.tab.active.dirty')`);
};

/** The page with a slip, and the fixes that are offered for it. */
const slip = async (): Promise<void> => {
  await openFile(editor, 'slip.melt');
  await waitFor(editor.page, `document.querySelectorAll('.squiggly-warning, .squiggly-error').length > 0`);
  await goToEndOfLine(editor, SLIP_PAGE.split('\n').findIndex((line) => line.includes('58.61')) + 1);
  await editor.page.keyboard.press('Control+.');
  await waitFor(editor.page, `!!document.querySelector('.action-widget .monaco-list-row')`);
};

const offered = async (): Promise<void> => {
  await editor.page.keyboard.press('Control+End');
  await editor.page.keyboard.type('melt ZZ3\n');
  await untilLine(editor, 'melt ZZ3');
  await atRest(editor);
  await editor.page.keyboard.type('in');
  await editor.page.keyboard.press('Escape');
  await editor.page.keyboard.type(' ');
  await waitFor(editor.page, `!!document.querySelector('.suggest-widget.visible .monaco-list-row')`);
};

/** Rows of the side view whose letters stand out less than 4.5 to 1 (WCAG 2.1, criterion 1.4.3). */
const paleRows = (): Promise<string[]> =>
  editor.page.evaluate<string[]>(`(() => {
    const light = (colour) => {
      const [r, g, b] = colour.match(/[\\d.]+/g).map(Number).map((one) => one / 255).map((one) => (one <= 0.03928 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4));
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    const backOf = (node) => {
      for (let at = node; at; at = at.parentElement) {
        const colour = getComputedStyle(at).backgroundColor;
        if (!/rgba\\(.*, 0\\)|transparent/.test(colour)) return colour;
      }
      return 'rgb(255, 255, 255)';
    };
    return [...document.querySelectorAll('.pane .monaco-list-row .label-name')].flatMap((node) => {
      const [one, other] = [light(getComputedStyle(node).color), light(backOf(node))].sort((a, b) => b - a);
      return (one + 0.05) / (other + 0.05) < 4.5 ? [node.textContent] : [];
    });
  })()`);
