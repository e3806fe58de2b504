import type { Plugin } from 'esbuild';

export const textAlone: Plugin;
