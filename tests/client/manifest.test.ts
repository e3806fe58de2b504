/** What the extension says of itself to the editor: commands, settings, words, files. */
import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import language from '../../client/language-configuration.json';
import { LENS_FAMILIES } from '../../server/features/lenses';
import { HINT_FAMILIES } from '../../server/lsp/settings';
import { manifest } from '../support/manifest';
import { said, workspaceOf } from '../support/workspace';

const ROOT = resolve(__dirname, '../..');
const { contributes } = manifest;

/** All settings, whatever group they stand in. */
const SETTINGS: Readonly<
  Record<string, { readonly markdownDescription: string; readonly scope: string; readonly default: unknown }>
> = Object.assign({}, ...contributes.configuration.map(({ properties }) => properties));

describe('the manifest', () => {
  test('wakes the extension for its language and its workshop file alone', () => {
    expect(manifest.activationEvents).toEqual([
      'onLanguage:melt',
      'workspaceContains:workshop.yaml',
      // A document that stood beside the page when the window was closed.
      'onWebviewPanel:fineweight.document',
    ]);
  });

  test('asks for no trust, and says what is missing in a virtual folder', () => {
    expect(manifest.capabilities.untrustedWorkspaces.supported).toBe(true);
    expect(manifest.capabilities.virtualWorkspaces.supported).toBe('limited');
    expect(manifest.capabilities.virtualWorkspaces.description).not.toBe('');
  });

  test('shows each command only where it works, in one category', () => {
    const guarded = contributes.menus.commandPalette.filter(({ when }) => when !== '').map(({ command }) => command);
    expect(contributes.commands.map(({ command }) => command)).toEqual(guarded);
    expect(new Set(contributes.commands.map(({ category }) => category))).toEqual(new Set(['Fineweight']));
    const source = readFileSync(join(ROOT, 'client/activate.ts'), 'utf8');
    for (const { command } of contributes.commands) expect(source).toContain(`registerCommand('${command}'`);
  });

  test('describes each setting, with a scope and a default; at most 25', () => {
    const settings = Object.entries(SETTINGS);
    for (const [name, setting] of settings) {
      expect(name).toMatch(/^fineweight\./);
      expect(setting.markdownDescription.length).toBeGreaterThan(20);
      expect(setting.scope).toBe('window');
      expect(setting.default).toBeDefined();
    }
    expect(settings.length).toBeLessThanOrEqual(25);
  });

  test('has a switch for each family of hints that the server knows', () => {
    const names = Object.keys(SETTINGS).filter((name) => name.startsWith('fineweight.hints.'));
    expect(names.map((name) => name.slice('fineweight.hints.'.length)).sort()).toEqual(
      ['enabled', 'level', ...HINT_FAMILIES].sort(),
    );
  });

  test('has a switch for each family of lenses that the server knows', () => {
    const names = Object.keys(SETTINGS).filter((name) => name.startsWith('fineweight.lenses.'));
    expect(names.map((name) => name.slice('fineweight.lenses.'.length))).toEqual(['enabled', ...LENS_FAMILIES]);
  });

  test('lifts the limit on hints for its own language', () => {
    expect(contributes.configurationDefaults['[melt]']['editor.inlayHints.maximumLength']).toBe(0);
  });

  test('lets Enter end the line, whatever is offered', () => {
    expect(contributes.configurationDefaults['[melt]']['editor.acceptSuggestionOnEnter']).toBe('off');
  });

  test('names only files that are there, and packs them', () => {
    const [{ configuration, icon }] = contributes.languages as [(typeof contributes.languages)[0]];
    const named = [
      configuration,
      icon.light,
      icon.dark,
      manifest.icon,
      ...contributes.grammars.map(({ path }) => path),
    ];
    const packed = readFileSync(join(ROOT, '.vscodeignore'), 'utf8').split('\n');
    for (const path of named) {
      const plain = path.replace(/^\.\//, '');
      expect(existsSync(join(ROOT, plain))).toBe(true);
      expect(packed).toContain(`!${plain}`);
    }
    expect(packed).toContain('**');
  });
});

describe('the language configuration', () => {
  const words = (text: string): string[] =>
    text.match(new RegExp(language.wordPattern.pattern, `${language.wordPattern.flags}g`)) ?? [];

  test.each([
    ['in TE-31d 203.88 g', ['in', 'TE-31d', '203.88', 'g']],
    ['24 g/t, 2026-05-04', ['24', 'g/t', '2026-05-04']],
    ['out M57.slag-2 58.16/58.15 g', ['out', 'M57.slag-2', '58.16/58.15', 'g']],
    ['expect Au 22..30 %', ['expect', 'Au', '22', '30']],
    ['Öl-1 "old ring".', ['Öl-1', 'old', 'ring']],
    ['USD/ozt 0.3-', ['USD/ozt', '0.3']],
  ])('takes the words of %s whole', (text, expected) => {
    expect(words(text)).toEqual(expected);
  });

  test('takes a long line of anything in no time', () => {
    const started = performance.now();
    for (const part of ['-', '-a', 'a-', '. ', './']) words(part.repeat(200_000));
    expect(performance.now() - started).toBeLessThan(2000);
  });

  test('indents below an entry, and goes back on a blank line', () => {
    const indentAfter = (line: string): string | undefined =>
      language.onEnterRules.find(({ beforeText }) => new RegExp(beforeText).test(line))?.action.indent;
    expect(indentAfter('melt M57')).toBe('indent');
    expect(indentAfter('more melt M61, crucible C4')).toBe('indent');
    expect(indentAfter('  ')).toBe('outdent');
    expect(indentAfter('  in A1')).toBeUndefined();
    expect(indentAfter('2026-05-04')).toBeUndefined();
    expect(indentAfter('')).toBeUndefined();
  });

  test('walks through with steps whose pages are there, and whose commands are ours', () => {
    const [walk] = contributes.walkthroughs;
    expect(walk!.steps.length).toBeGreaterThanOrEqual(4);
    const ours = contributes.commands.map(({ command }) => command);
    for (const { description, media } of walk!.steps) {
      expect(existsSync(join(ROOT, media.markdown))).toBe(true);
      for (const [, command] of description.matchAll(/\(command:([\w.]+)\)/g))
        expect(
          ours.includes(command!) ||
            command === 'workbench.actions.view.problems' ||
            contributes.views.fineweight.some(({ id }) => `${id}.focus` === command),
        ).toBe(true);
    }
  });

  test('writes a first page and a workshop file that are without a finding', () => {
    const source = readFileSync(join(ROOT, 'client/new-journal.ts'), 'utf8');
    const text = (from: string): string =>
      source
        .split(from)[1]!
        .split('`')[1]!
        .replace(/\$\{day\}/g, '2026-05-04');
    const page = text('firstPage');
    expect(page).toContain('melt M1');
    const workspace = workspaceOf({ 'page.melt': page, 'workshop.yaml': text('WORKSHOP_TEXT') });
    expect([...said(workspace), ...said(workspace, 'workshop.yaml')]).toEqual([]);
    expect(workspace.pages.get('page.melt')!.entries).toHaveLength(2);
  });
});
