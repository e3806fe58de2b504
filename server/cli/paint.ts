/** Colour for people at a terminal; plain text for files, pipes and whoever sets NO_COLOR. */
import { styleText } from 'node:util';
import type { Severity } from '../rules/rule';

export type Paint = (style: 'red' | 'green' | 'yellow' | 'cyan' | 'dim' | 'bold', text: string) => string;

export const plain: Paint = (_style, text) => text;

export const paintFor = (stream: { readonly isTTY?: boolean }, env: Readonly<NodeJS.ProcessEnv>): Paint => {
  const isWanted = stream.isTTY === true && !env.NO_COLOR && env.TERM !== 'dumb';
  return isWanted && typeof styleText === 'function'
    ? (style, text) => styleText(style, text, { validateStream: false })
    : plain;
};

export const SEVERITY_COLOUR: Readonly<Record<Severity, Parameters<Paint>[0]>> = {
  error: 'red',
  warning: 'yellow',
  hint: 'cyan',
};
