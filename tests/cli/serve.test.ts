/** The language server started by the command line, as other editors start it: the built programs, beside each other. */
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { codes, endClients, leave, open, SERVER, shown, startClient, until } from '../support/client';
import { SLIP_PAGE } from '../support/slip-page';
import { fineweight } from './run';

const CLI = join(dirname(SERVER), 'cli.js');

afterEach(endClients);

describe('fineweight serve --stdio', () => {
  test('is the language server: a page that is opened gets its findings, and the process leaves with its client', async () => {
    const client = await startClient({ program: [CLI, 'serve', '--stdio'], files: { 'may.melt': SLIP_PAGE } });
    await open(client, 'may.melt', SLIP_PAGE);
    await until('findings', () => (shown(client, 'may.melt')?.length ?? 0) > 0);
    expect(codes(client, 'may.melt')).toContain('weight-changed');
    expect(client.initialized.capabilities.renameProvider).toBeTruthy();
    expect(await leave(client)).toBe(0);
  });

  test('ends when its client is gone without a word', () => {
    const { status, stdout } = spawnSync(process.execPath, [CLI, 'serve', '--stdio'], { input: '', timeout: 10_000 });
    expect([status, stdout.toString()]).toEqual([1, '']);
  });

  test('is told apart from a command for a terminal', () => {
    for (const args of [[], ['--stdio', 'may.melt']]) {
      const { exit, out, err } = fineweight(['serve', ...args]);
      expect([exit, out]).toEqual([2, '']);
      expect(err).toContain('`fineweight serve --stdio` is for an editor to start');
    }
    expect(fineweight(['serve', '--stdio=yes']).err).toContain('--stdio takes no value.');
    expect(fineweight(['serve', '--socket=7000']).err).toContain('There is no option --socket.');
  });
});
