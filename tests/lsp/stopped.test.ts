/** The first reading of a large journal is stopped by the one who waits for it; the built server as a child process. */
import { afterEach, expect, test } from 'vitest';
import {
  CAPABILITIES,
  type Client,
  codes,
  endClients,
  hints,
  open,
  shown,
  startClient,
  type,
  until,
  uriOf,
} from '../support/client';
import { makeJournal, WORKSHOP } from '../support/journal';

afterEach(endClients);

const PAGES = [...makeJournal(12_000, 15)];
const swapped = (text: string): string => text.replace(/(\d)(?!\1)(\d)(\.\d\d g button)/, '$2$1$3');
const FILES = Object.fromEntries([['workshop.yaml', WORKSHOP], ...PAGES.map(([name, text]) => [name, swapped(text)])]);
const NAMES = PAGES.map(([name]) => name);
const [FIRST, LAST] = [NAMES[0]!, NAMES.at(-1)!];

interface Status {
  readonly state: string;
  readonly pages: number;
  readonly read?: number;
}

/** A server that is reading, with its last page on the screen. */
const startReading = async () => {
  const client = await startClient({
    files: FILES,
    capabilities: { ...CAPABILITIES, window: { workDoneProgress: true } },
    options: { cursor: true, status: true },
  });
  const statuses: Status[] = [];
  const messages: string[] = [];
  client.connection.onNotification('fineweight/status', (status: Status) => void statuses.push(status));
  client.connection.onNotification(
    'window/showMessage',
    ({ message }: { message: string }) => void messages.push(message),
  );
  await open(client, LAST, FILES[LAST]!);
  await hints(client, LAST);
  return { client, statuses, messages };
};

const cancelProgress = (client: Client): Promise<void> => {
  const [{ token }] = client.asked.get('window/workDoneProgress/create') as [{ token: string }];
  return client.connection.sendNotification('window/workDoneProgress/cancel', { token });
};

const ask = (client: Client, method: string, params: object): Promise<unknown> =>
  client.connection.sendRequest(method, params);

/** What was said last of each page that something was said of. */
const said = (client: Client): readonly string[] =>
  NAMES.map((name) => `${name}: ${(shown(client, name) ?? []).map(({ message }) => message).join(' ')}`);

test('open pages stay right, what waits is answered, and what is wanted later is read on', async () => {
  const { client, statuses, messages } = await startReading();
  const waits = ask(client, 'workspace/symbol', { query: 'R1' }).catch((error: unknown) => error);
  await cancelProgress(client);

  const refused = (await waits) as { code: number; message: string };
  expect(refused.code).toBe(-32800);
  expect(refused.message).toMatch(/^Reading was stopped: \d+ of 16 files are read\.$/);
  await until('the message', () => messages.length > 0);
  expect(messages).toEqual([expect.stringContaining('Open pages are right')]);
  const { state, read, pages } = statuses.at(-1)!;
  expect([state, pages]).toEqual(['stopped', 16]);
  expect(read).toBeLessThan(16);

  // Open pages: that one, and another.
  await until('findings of the open page', () => !!codes(client, LAST)?.length);
  await type(client, LAST, 'g button', ' on bench');
  expect((await hints(client, LAST)).length).toBeGreaterThan(20);
  expect(shown(client, FIRST)).toBeUndefined();
  await open(client, FIRST, FILES[FIRST]!);
  expect((await hints(client, FIRST)).length).toBeGreaterThan(20);
  await until('findings of the other', () => !!codes(client, FIRST)?.length);
  expect(NAMES.slice(3, 12).filter((name) => shown(client, name))).toEqual([]);

  // What an editor asks for by itself waits for nothing, and adds up nothing.
  expect(await ask(client, 'fineweight/view', { view: 'onHand' })).toMatchObject([
    { label: 'Reading was stopped', detail: expect.stringMatching(/^\d+ of 16 files are read$/), children: [] },
  ]);
  const at = { textDocument: { uri: uriOf(client, FIRST) }, position: { line: 2, character: 0 } };
  const day = (await ask(client, 'fineweight/view', { view: 'day', ...at })) as unknown[];
  expect(day.length).toBeGreaterThan(1);
  expect(statuses.at(-1)!.state).toBe('stopped');

  // Somebody wants all.
  expect(await ask(client, 'workspace/symbol', { query: 'R1' })).not.toEqual([]);
  await until('the end', () => statuses.at(-1)!.state === 'ready', 60_000);
  const [row] = (await ask(client, 'fineweight/view', { view: 'onHand' })) as [{ children: unknown[] }];
  expect(row.children.length).toBeGreaterThan(3);
}, 120_000);

test('read on by hand, everything is said as if it had never been stopped', async () => {
  const { client, statuses } = await startReading();
  await cancelProgress(client);
  await until('the stop', () => statuses.at(-1)!.state === 'stopped');
  await client.connection.sendNotification('fineweight/readOn', {});
  await until('the end', () => statuses.at(-1)!.state === 'ready', 60_000);

  const { client: other, statuses: ofOther } = await startReading();
  // What does not go on, or no longer does, cannot be stopped.
  await other.connection.sendNotification('window/workDoneProgress/cancel', { token: 'another' });
  await until('its end', () => ofOther.at(-1)!.state === 'ready', 60_000);
  await cancelProgress(other);
  expect(await ask(other, 'workspace/symbol', { query: 'R1' })).not.toEqual([]);
  expect(ofOther.map(({ state }) => state)).not.toContain('stopped');
  expect(said(client).filter((line) => !line.endsWith(': ')).length).toBe(NAMES.length);
  expect(said(client)).toEqual(said(other));
}, 120_000);
