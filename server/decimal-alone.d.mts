import type { Plugin } from 'esbuild';

export const decimalAlone: Plugin;
/** The names of what is left out. */
export const LEFT_OUT: readonly string[];
export const ALSO_LEFT_OUT: readonly string[];
