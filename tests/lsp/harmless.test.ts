/** What the server cannot do: write a file, reach a network, start a program, run text as code. Looked for in the sources and in the bundle. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { SERVER } from '../support/client';

const SOURCES = resolve(__dirname, '../../server');
const CLIENT = ['activate.ts', 'browser.ts', 'extension.ts', 'files.ts'].map((name) =>
  resolve(__dirname, '../../client', name),
);

/** Of `node:fs`: what reads. */
const READING = ['Dirent', 'readdirSync', 'readFileSync', 'realpathSync', 'statSync'];
const MODULES = ['node:path', 'node:url', 'node:timers/promises'];

const sources = readdirSync(SOURCES, { recursive: true, withFileTypes: true })
  .filter((item) => item.isFile() && item.name.endsWith('.ts'))
  .map((item) => join(item.parentPath, item.name))
  // The command line is a program of its own: it prints.
  .filter((path) => !path.startsWith(join(SOURCES, 'cli')));

const nodeImports = (path: string): { names: string[]; from: string }[] =>
  [...readFileSync(path, 'utf8').matchAll(/^import (?:type )?([^'"]*?) from '(node:[^']+)';/gms)].map((match) => ({
    names: match[1]!.split(/[{},\s]+/).filter((name) => name !== '' && name !== 'type'),
    from: match[2]!,
  }));

describe('the sources', () => {
  test('read the disk in one folder, and with nothing that writes', () => {
    const wrong = sources.flatMap((path) =>
      nodeImports(path).flatMap(({ names, from }) => {
        if (from === 'node:fs') {
          const inPlace = path.startsWith(join(SOURCES, 'files'));
          return inPlace && names.every((name) => READING.includes(name)) ? [] : [`${path}: ${names} of ${from}`];
        }
        return MODULES.includes(from) ? [] : [`${path}: ${from}`];
      }),
    );
    expect(wrong).toEqual([]);
    expect(sources.flatMap(nodeImports).length).toBeGreaterThan(4);
  });

  test('call nothing that needs no import and reaches out', () => {
    const reaching =
      /\b(?:fetch|require|eval|Function|WebSocket|XMLHttpRequest|EventSource)\s*\(|\bimport\s*\(|process\.(?:binding|dlopen)/;
    const withoutComments = (text: string): string => text.replace(/\/\*.*?\*\/|\/\/.*$/gms, '');
    expect(
      [...sources, ...CLIENT].filter((path) => reaching.test(withoutComments(readFileSync(path, 'utf8')))),
    ).toEqual([]);
  });
});

describe('the bundle', () => {
  // Four files run as the server: Node's edge, and what it takes from beside it (server/bundle.mjs).
  const bundle = [SERVER, ...['core.js', 'by-hand.js', 'documents.js'].map((name) => join(dirname(SERVER), name))]
    .map((path) => readFileSync(path, 'utf8'))
    .join('\n');
  const required = [
    ...new Set([...bundle.matchAll(/require\("([^"]+)"\)/g)].map((match) => match[1]!.replace('node:', ''))),
  ];

  test('has no sockets, no other programs and no threads', () => {
    const known = [
      './core.js',
      './by-hand.js',
      './documents.js',
      'buffer',
      'crypto',
      'fs',
      'os',
      'path',
      'process',
      'timers/promises',
      'url',
      'util',
    ];
    expect(required.filter((name) => !known.includes(name))).toEqual([]);
    expect(required).toContain('fs');
  });

  test('has no function that writes, makes, moves or removes a file', () => {
    const writing =
      /\b(?:writeFile|appendFile|createWriteStream|writeSync|writevSync|mkdir|mkdtemp|rmdir|rmSync|unlink|renameSync|copyFile|cpSync|symlink|linkSync|truncateSync|ftruncate|chmod|chown|utimes|openSync)\w*/g;
    expect(bundle.match(writing) ?? []).toEqual([]);
  });
});
