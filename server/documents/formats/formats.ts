/** The forms that a document can take. A new one is a file beside this, and a line here. */
import { csv } from './csv';
import type { Format } from './format';
import { html } from './html';
import { json } from './json';
import { markdown } from './markdown';

export const FORMATS = { md: markdown, html, csv, json } as const satisfies Readonly<Record<string, Format>>;

export type FormatName = keyof typeof FORMATS;

export const FORMAT_NAMES = Object.keys(FORMATS) as readonly FormatName[];
