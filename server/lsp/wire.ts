/** What the server needs of a connection to its client: messages out, messages in. Who carries them is the edge's matter. */
import type { InitializeResult } from 'vscode-languageserver';
import { MessageType } from './protocol';

/** A request that is answered with an error. */
export class RefusedRequest extends Error {
  constructor(
    readonly code: number,
    message: string,
  ) {
    super(message);
  }
}

/** Says whether an answer is still wanted. */
export interface Wanted {
  readonly isCancellationRequested: boolean;
}

export interface Wire {
  readonly onInitialize: (answer: (params: unknown) => InitializeResult) => unknown;
  readonly onInitialized: (hear: () => void) => unknown;
  readonly onShutdown: (answer: () => void) => unknown;
  readonly onRequest: (method: string, answer: (params: unknown, wanted?: Wanted) => unknown) => unknown;
  readonly onNotification: (method: string, hear: (params: unknown) => void) => unknown;
  readonly sendRequest: (method: string, params?: object) => Promise<unknown>;
  readonly sendNotification: (method: string, params?: object) => Promise<void>;
  readonly listen: () => void;
}

export const logError = (wire: Wire, message: string): void => log(wire, MessageType.Error, message);

export const logWarning = (wire: Wire, message: string): void => log(wire, MessageType.Warning, message);

/** Shown to the one who is at it. */
export const warnUser = (wire: Wire, message: string): void =>
  void wire.sendNotification('window/showMessage', { type: MessageType.Warning, message });

const log = (wire: Wire, type: number, message: string): void =>
  void wire.sendNotification('window/logMessage', { type, message });
