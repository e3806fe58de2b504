/** Parameters come from outside and may be anything: each is read through these, and what does not fit is answered with an error. */
import type { Position, Range } from 'vscode-languageserver';
import type { TextChange } from './document';
import { ErrorCodes } from './protocol';
import { fieldOf } from './settings';
import { RefusedRequest } from './wire';

const invalid = (what: string): RefusedRequest =>
  new RefusedRequest(ErrorCodes.InvalidParams, `${what} is missing or malformed.`);

export const textIn = (params: unknown, name: string): string => {
  const value = fieldOf(params, name);
  if (typeof value !== 'string') throw invalid(name);
  return value;
};

export const countIn = (params: unknown, name: string): number => {
  const value = fieldOf(params, name);
  if (typeof value !== 'number' || !Number.isInteger(value) || value < 0) throw invalid(name);
  return value;
};

/** A version may be any whole number. */
export const versionIn = (params: unknown): number => {
  const value = fieldOf(fieldOf(params, 'textDocument'), 'version');
  if (typeof value !== 'number' || !Number.isInteger(value)) throw invalid('version');
  return value;
};

export const listIn = (params: unknown, name: string): readonly unknown[] => {
  const value = fieldOf(params, name);
  if (!Array.isArray(value)) throw invalid(name);
  return value;
};

export const uriIn = (params: unknown): string => textIn(fieldOf(params, 'textDocument'), 'uri');

export const positionIn = (params: unknown, name: string): Position => {
  const value = fieldOf(params, name);
  return { line: countIn(value, 'line'), character: countIn(value, 'character') };
};

export const rangeIn = (params: unknown, name: string): Range => {
  const value = fieldOf(params, name);
  return { start: positionIn(value, 'start'), end: positionIn(value, 'end') };
};

export const changesIn = (params: unknown): readonly TextChange[] =>
  listIn(params, 'contentChanges').map((change) => {
    const text = textIn(change, 'text');
    return fieldOf(change, 'range') === undefined ? { text } : { text, range: rangeIn(change, 'range') };
  });

/** Addresses of folders, as a client lists them; none where it lists none. */
export const folderUrisIn = (list: unknown): readonly string[] =>
  (Array.isArray(list) ? list : []).map((folder) => fieldOf(folder, 'uri')).filter((uri) => typeof uri === 'string');
