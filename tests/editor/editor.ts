/**
 * A real editor in a real browser: code-server with the packed extension, driven by playwright-core. Both come from a kit folder, which is no
 * part of this repository; `DEVELOPERS.md` says how to make one. Everything waits for a condition, nothing for a time.
 */
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const REPOSITORY = resolve(__dirname, '../..');
export const VSIX = join(REPOSITORY, 'fineweight.vsix');
/** Where pictures and recordings go. */
export const PICTURES = join(REPOSITORY, 'tests/dist/editor');

/** A folder in which `npm install node@24 code-server@4.139.1 playwright-core` was run. */
export const KIT = process.env.FINEWEIGHT_EDITOR_KIT ?? '';
const CHROMIUM = process.env.FINEWEIGHT_CHROMIUM ?? '/usr/bin/chromium';

const NO_KIT =
  'No editor to work in: make a kit with tests/editor/kit.sh FOLDER, and set FINEWEIGHT_EDITOR_KIT to that folder.';

/** What is used of playwright's page. Functions that run in the browser are given as text. */
export interface Page {
  goto(url: string): Promise<unknown>;
  evaluate<Result>(script: string): Promise<Result>;
  waitForFunction(script: string, argument: undefined, options: { timeout: number }): Promise<unknown>;
  screenshot(options: { path: string }): Promise<unknown>;
  setViewportSize(size: { width: number; height: number }): Promise<unknown>;
  /** The page itself, and whatever it frames: a document beside the page is one. */
  frames(): readonly { evaluate<Result>(script: string): Promise<Result> }[];
  on(event: 'request', listener: (request: { url(): string }) => void): void;
  readonly keyboard: {
    press(key: string): Promise<void>;
    type(text: string, options?: { delay: number }): Promise<void>;
  };
  readonly mouse: { move(x: number, y: number): Promise<void>; click(x: number, y: number): Promise<void> };
}

interface Playwright {
  readonly chromium: {
    launch(options: object): Promise<{ newPage(): Promise<Page>; close(): Promise<void> }>;
  };
}

export type Settings = Readonly<Record<string, unknown>>;

export interface Editor {
  readonly page: Page;
  readonly folder: string;
  readonly close: () => Promise<void>;
}

const SETTINGS = {
  // Restricted mode, without its question: the extension must work where nothing is trusted.
  'security.workspace.trust.startupPrompt': 'never',
  'security.workspace.trust.banner': 'never',
  'workbench.startupEditor': 'none',
  'workbench.tips.enabled': false,
  'telemetry.telemetryLevel': 'off',
  'editor.minimap.enabled': false,
  'chat.disableAIFeatures': true,
  'workbench.secondarySideBar.defaultVisibility': 'hidden',
  'files.autoSave': 'off',
};

/** Starts the editor on a folder, with settings beside those that every test has. */
export const startEditor = async (folder: string, more: Settings = {}): Promise<Editor> => {
  if (KIT === '' || !existsSync(join(KIT, 'node_modules/code-server'))) throw new Error(NO_KIT);
  const home = mkdtempSync(join(tmpdir(), 'fineweight-editor-'));
  const [data, extensions] = [join(home, 'data'), join(home, 'extensions')];
  mkdirSync(join(data, 'User'), { recursive: true });
  writeFileSync(join(data, 'User/settings.json'), JSON.stringify({ ...SETTINGS, ...more }));
  const common = ['--user-data-dir', data, '--extensions-dir', extensions, '--config', join(home, 'config.yaml')];
  writeFileSync(join(home, 'config.yaml'), 'auth: none\ncert: false\n');
  const node = join(KIT, 'node_modules/node/bin/node');
  const entry = join(KIT, 'node_modules/code-server/out/node/entry.js');
  execFileSync(node, [entry, ...common, '--install-extension', VSIX], { stdio: 'ignore' });
  const options = ['--auth', 'none', '--bind-addr', '127.0.0.1:0', '--disable-telemetry', '--disable-update-check'];
  const server = spawn(node, [entry, ...common, ...options], { stdio: ['ignore', 'pipe', 'pipe'] });
  const address = await addressOf(server);
  const { chromium } = createRequire(join(KIT, 'package.json'))('playwright-core') as Playwright;
  const browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
  const page = await browser.newPage();
  await page.setViewportSize({ width: 1360, height: 900 });
  await page.goto(`${address}/?folder=${encodeURIComponent(folder)}`);
  await waitFor(page, `!!document.querySelector('.monaco-workbench .part.editor')`, 60_000);
  const close = async (): Promise<void> => {
    await browser.close();
    server.kill();
    rmSync(home, { recursive: true, force: true });
  };
  return { page, folder, close };
};

const addressOf = (server: ChildProcess): Promise<string> =>
  new Promise((found, failed) => {
    let told = '';
    const listen = (chunk: Buffer): void => {
      told += chunk.toString();
      const address = /HTTP server listening on (http:\/\/[\d.]+:\d+)/.exec(told)?.[1];
      if (address) found(address);
    };
    server.stdout?.on('data', listen);
    server.stderr?.on('data', listen);
    server.on('exit', () => failed(new Error(`The editor ended: ${told}`)));
  });

/** Waits until a condition holds in the page. */
export const waitFor = async (page: Page, condition: string, timeout = 30_000): Promise<void> => {
  await page.waitForFunction(condition, undefined, { timeout });
};

/**
 * Waits until the editor has coloured what was typed, which it does when idle: on a line that is not coloured yet, Enter keeps the indent
 * and asks no rule of the language.
 */
export const atRest = ({ page }: Editor): Promise<void> =>
  page.evaluate('new Promise((done) => requestIdleCallback(() => requestIdleCallback(() => done())))');

/** Keeps a picture for whoever wants to look. */
export const picture = async ({ page }: Editor, name: string): Promise<void> => {
  mkdirSync(PICTURES, { recursive: true });
  await page.screenshot({ path: join(PICTURES, `${name}.png`) });
};

/** The lines on the screen from top to bottom, with the hints that stand in them. */
const LINES = `[...document.querySelectorAll('.editor-instance .view-lines .view-line')]
  .sort((a, b) => parseFloat(a.style.top) - parseFloat(b.style.top))
  .map((line) => line.textContent.replaceAll('\\u00a0', ' '))`;

export const lines = ({ page }: Editor): Promise<string[]> => page.evaluate<string[]>(LINES);

/** Waits until some line on the screen holds a text. */
export const untilLine = ({ page }: Editor, text: string, timeout?: number): Promise<void> =>
  waitFor(page, `${LINES}.some((line) => line.includes(${JSON.stringify(text)}))`, timeout);

/** Opens a file of the folder by its name. */
export const openFile = async (editor: Editor, name: string): Promise<void> => {
  await choose(editor, { key: 'Control+P', before: '', typed: name });
  await waitFor(editor.page, `document.querySelector('.tab.active')?.textContent.includes(${JSON.stringify(name)})`);
};

/** Puts the cursor at the end of a line, counted from 1. */
export const goToEndOfLine = async (editor: Editor, line: number): Promise<void> => {
  await choose(editor, { key: 'Control+G', before: ':', typed: String(line), row: '' });
  // The box is gone a moment before the page has the keyboard again.
  await waitFor(editor.page, `!!document.activeElement?.closest('.editor-instance')`);
  await editor.page.keyboard.press('End');
};

/** Runs a command by its title. */
export const command = (editor: Editor, title: string): Promise<void> =>
  choose(editor, { key: 'F1', before: '>', typed: title });

const WIDGET = `document.querySelector('.quick-input-widget')`;
const INPUT = `${WIDGET}?.querySelector('input[type="text"], input:not([type])')`;

/**
 * Types into the editor's box of questions, and takes the first row once it holds what was typed; each key waits for what the one before did.
 * An editor that has only just been opened may not listen yet, and its list of files may be older than the file: then it is asked again.
 */
const choose = async (editor: Editor, asked: Asked): Promise<void> => {
  for (let tries = 1; !(await chosen(editor, asked, tries === LAST_TRY ? 30_000 : 4000 * tries)); tries++) {
    if (tries === LAST_TRY) throw new Error(`The editor does not offer ${asked.before}${asked.typed}.`);
    await editor.page.keyboard.press('Escape');
  }
};

const LAST_TRY = 6;

interface Asked {
  readonly key: string;
  readonly before: string;
  readonly typed: string;
  /** What the first row must hold; nothing where there are no rows to wait for. */
  readonly row?: string;
}

const chosen = async ({ page }: Editor, asked: Asked, timeout: number): Promise<boolean> => {
  const { key, before, typed, row = typed } = asked;
  const holds = (text: string): string =>
    `document.activeElement === ${INPUT} && ${INPUT}?.value === ${JSON.stringify(text)}`;
  const comes = (condition: string): Promise<boolean> =>
    waitFor(page, condition, timeout).then(
      () => true,
      () => false,
    );
  await page.keyboard.press(key);
  if (!(await comes(holds(before)))) return false;
  await page.keyboard.type(typed);
  if (!(await comes(holds(before + typed)))) return false;
  const offered = `${WIDGET}.querySelector('.monaco-list-row')?.textContent.includes(${JSON.stringify(row)})`;
  if (row !== '' && !(await comes(offered))) return false;
  await page.keyboard.press('Enter');
  await waitFor(page, `${WIDGET}.style.display === 'none' || !(${holds(before + typed)})`);
  return true;
};

/** Takes a row of a list that a command has opened. */
export const accept = async ({ page }: Editor, row: string): Promise<void> => {
  const first = `${WIDGET}?.querySelector('.monaco-list-row')?.textContent`;
  await waitFor(
    page,
    `${WIDGET}?.style.display !== 'none' && document.activeElement === ${INPUT} && ${INPUT}?.value === ''`,
  );
  await page.keyboard.type(row);
  await waitFor(page, `${first}?.includes(${JSON.stringify(row)})`);
  await page.keyboard.press('Enter');
  // What comes next may have a box of its own, with a text in it, at once.
  await waitFor(page, `${WIDGET}.style.display === 'none' || ${INPUT}?.value !== ${JSON.stringify(row)}`);
};

/** Waits until something framed in the page, as a document beside it is, says a text. */
export const untilFrame = async ({ page }: Editor, text: string, timeout = 30_000): Promise<void> => {
  const says = (frame: ReturnType<Page['frames']>[number]): Promise<boolean> =>
    frame.evaluate<boolean>(`document.body.innerText.includes(${JSON.stringify(text)})`).catch(() => false);
  for (const end = Date.now() + timeout; Date.now() < end; ) {
    if ((await Promise.all(page.frames().slice(1).map(says))).includes(true)) return;
    await page.evaluate('new Promise((done) => requestAnimationFrame(done))');
  }
  throw new Error(`No document says: ${text}`);
};
