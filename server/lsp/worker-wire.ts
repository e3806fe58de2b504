/**
 * A connection over the messages of a browser's worker, which carries values: JSON-RPC 2.0 as the protocol uses it, and nothing of streams,
 * lengths and encodings.
 */
import type { InitializeResult } from 'vscode-languageserver';
import { ErrorCodes, LSPErrorCodes } from './protocol';
import { fieldOf } from './settings';
import { RefusedRequest, type Wanted, type Wire } from './wire';

/** What of a worker's own scope is used. */
export interface WorkerScope {
  postMessage(message: unknown): void;
  onmessage: ((event: { readonly data: unknown }) => void) | null;
}

type Answer = (params: unknown, wanted: Wanted) => unknown;

export const workerWire = (worker: WorkerScope): Wire => {
  const answers = new Map<string, Answer>();
  const hears = new Map<string, (params: unknown) => void>();
  /** Own requests that wait for their answer. */
  const asked = new Map<
    number,
    { readonly resolve: (result: unknown) => void; readonly reject: (error: Error) => void }
  >();
  /** The client's requests that are not answered yet. */
  const open = new Map<unknown, { isCancellationRequested: boolean }>();
  let lastAsked = 0;
  const send = (message: object): void => worker.postMessage({ jsonrpc: '2.0', ...message });

  const answerTo = async (id: unknown, method: string, params: unknown): Promise<void> => {
    const wanted = open.get(id)!;
    try {
      if (wanted.isCancellationRequested) throw new RefusedRequest(LSPErrorCodes.RequestCancelled, 'Cancelled.');
      const answer = answers.get(method);
      if (!answer) throw new RefusedRequest(ErrorCodes.MethodNotFound, `There is no ${method}.`);
      send({ id, result: (await answer(params, wanted)) ?? null });
    } catch (error) {
      const code = error instanceof RefusedRequest ? error.code : ErrorCodes.InternalError;
      send({ id, error: { code, message: error instanceof Error ? error.message : String(error) } });
    } finally {
      open.delete(id);
    }
  };

  const take = (message: unknown): void => {
    const [id, method, params] = ['id', 'method', 'params'].map((name) => fieldOf(message, name));
    if (typeof method !== 'string') answered(message);
    else if (id === undefined) hears.get(method)?.(params);
    else void answerTo(id, method, params);
  };

  const answered = (message: unknown): void => {
    const id = fieldOf(message, 'id') as number;
    const waiting = asked.get(id);
    asked.delete(id);
    const error = fieldOf(message, 'error');
    if (error === undefined) waiting?.resolve(fieldOf(message, 'result'));
    else waiting?.reject(new Error(String(fieldOf(error, 'message'))));
  };

  return {
    onInitialize: (answer: (params: unknown) => InitializeResult) => answers.set('initialize', answer),
    onInitialized: (hear) => hears.set('initialized', hear),
    onShutdown: (answer) => answers.set('shutdown', answer),
    onRequest: (method, answer) => answers.set(method, answer),
    onNotification: (method, hear) => hears.set(method, hear),
    sendRequest: (method, params) =>
      new Promise((resolve, reject) => {
        lastAsked += 1;
        asked.set(lastAsked, { resolve, reject });
        send({ id: lastAsked, method, params });
      }),
    sendNotification: async (method, params) => send({ method, params }),
    listen: () => {
      worker.onmessage = ({ data }) => {
        const [id, method] = [fieldOf(data, 'id'), fieldOf(data, 'method')];
        if (method === '$/cancelRequest') {
          const request = open.get(fieldOf(fieldOf(data, 'params'), 'id'));
          if (request) request.isCancellationRequested = true;
          return;
        }
        if (id !== undefined && method !== undefined) open.set(id, { isCancellationRequested: false });
        // In a turn of its own: what cancels it may already be there.
        setTimeout(() => take(data), 0);
      };
    },
  };
};
