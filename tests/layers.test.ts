/** The folders of `server` import in one direction only. This table is the house's plan; DEVELOPERS.md tells it in words. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const SERVER = resolve(__dirname, '../server');

const LANGUAGE = ['text', 'quantity', 'vocabulary', 'engine', 'syntax'];
const JOURNAL = [...LANGUAGE, 'workshop', 'journal', 'workspace'];
const ALL_BUT_DISK = [
  ...JOURNAL,
  'record',
  'reports',
  'pictures',
  'advice',
  'rules',
  'documents',
  'tables',
  'features',
];

/** In reading order; each may import itself and what is named. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  text: [],
  quantity: [],
  vocabulary: ['text', 'quantity'],
  engine: ['text', 'quantity', 'vocabulary'],
  syntax: ['text', 'quantity', 'vocabulary'],
  workshop: LANGUAGE,
  journal: LANGUAGE,
  workspace: [...LANGUAGE, 'workshop', 'journal'],
  record: JOURNAL,
  reports: JOURNAL,
  pictures: [...JOURNAL, 'reports'],
  advice: [...JOURNAL, 'reports'],
  rules: [...JOURNAL, 'record', 'reports', 'advice'],
  documents: [...JOURNAL, 'record', 'reports', 'pictures', 'advice', 'rules'],
  tables: [...JOURNAL, 'reports', 'rules'],
  features: [...JOURNAL, 'record', 'rules', 'reports', 'advice', 'documents'],
  files: ['text'],
  generate: ALL_BUT_DISK,
  lsp: [...ALL_BUT_DISK, 'files'],
  cli: [...ALL_BUT_DISK, 'files'],
};

/** Packages that a folder alone may import. */
const MAY_USE: Readonly<Record<string, readonly string[]>> = {
  quantity: ['decimal.js'],
  workshop: ['yaml'],
  pictures: ['d3-sankey', 'd3-scale', 'd3-shape'],
  record: ['@noble/hashes/sha2', '@noble/hashes/utils'],
  files: ['node:'],
  lsp: [
    'vscode-languageserver',
    'vscode-languageserver/node',
    'vscode-languageserver/browser',
    'vscode-languageserver-textdocument',
    'node:',
  ],
  cli: ['node:', 'diff'],
};

const filesBelow = (folder: string): string[] =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return name === 'dist' ? [] : filesBelow(path);
    return name.endsWith('.ts') ? [path] : [];
  });

const importsOf = (path: string): string[] =>
  [...readFileSync(path, 'utf8').matchAll(/^(?:import|export)\b[^'"]*?from '([^']+)';|^import '([^']+)';/gms)].map(
    (match) => match[1] ?? match[2]!,
  );

const folderOf = (path: string): string => relative(SERVER, path).split('/')[0]!;

describe('the folders of server', () => {
  const files = filesBelow(SERVER);

  it('are all in the table', () => {
    expect([...new Set(files.map(folderOf))].filter((folder) => !(folder in MAY_IMPORT))).toEqual([]);
  });

  it('import only upwards', () => {
    const wrong = files.flatMap((path) =>
      importsOf(path)
        // The manifest alone tells the version, and the command line alone shows it.
        .filter((name) => name.startsWith('.') && !(name === '../../package.json' && folderOf(path) === 'cli'))
        .map((name) => folderOf(resolve(dirname(path), name)))
        .filter((folder) => folder !== folderOf(path) && !MAY_IMPORT[folderOf(path)]!.includes(folder))
        .map((folder) => `${relative(SERVER, path)} imports ${folder}`),
    );
    expect(wrong).toEqual([]);
  });

  it('use packages only where the table allows', () => {
    const wrong = files.flatMap((path) =>
      importsOf(path)
        .filter((name) => !name.startsWith('.'))
        .filter(
          (name) =>
            !(MAY_USE[folderOf(path)] ?? []).some(
              (allowed) => name === allowed || (allowed.endsWith(':') && name.startsWith(allowed)),
            ),
        )
        .map((name) => `${relative(SERVER, path)} uses ${name}`),
    );
    expect(wrong).toEqual([]);
  });

  it('let one file alone know the decimal library', () => {
    const users = files.filter((path) => importsOf(path).includes('decimal.js')).map((path) => relative(SERVER, path));
    expect(users).toEqual(['quantity/decimal.ts']);
  });

  it('have no circles between files', () => {
    const graph = new Map(
      files.map((path) => [
        path,
        importsOf(path)
          .filter((name) => name.startsWith('.'))
          .map((name) => `${resolve(dirname(path), name)}.ts`),
      ]),
    );
    const done = new Set<string>();
    const circles: string[] = [];
    const walk = (path: string, trail: readonly string[]): void => {
      if (trail.includes(path)) {
        circles.push([...trail.slice(trail.indexOf(path)), path].map((one) => relative(SERVER, one)).join(' → '));
        return;
      }
      if (done.has(path)) return;
      for (const next of graph.get(path) ?? []) walk(next, [...trail, path]);
      done.add(path);
    };
    for (const path of files) walk(path, []);
    expect(circles).toEqual([]);
  });
});
