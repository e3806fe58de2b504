/** The sample shop's journal as documents. */
import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Choice } from '../../server/documents/choice';
import type { Setting } from '../../server/documents/formats/format';
import { FORMATS, type FormatName } from '../../server/documents/formats/formats';
import { documentOf, kindNamed } from '../../server/documents/kinds';
import type { Document } from '../../server/documents/model';
import { settingOf } from '../../server/documents/source';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import type { Workspace } from '../../server/workspace/workspace';
import { workspaceOf } from './workspace';

export const sampleWorkspace = (sample: 'tarn-end' | 'selling' = 'tarn-end'): Workspace => {
  const folder = resolve(__dirname, '../../samples', sample);
  return withTexts(
    emptyWorkspace(sample),
    new Map(readdirSync(folder).map((name) => [`${sample}/${name}`, readFileSync(resolve(folder, name), 'utf8')])),
  );
};

/** The digest is left out of what is recorded: it changes with every word of the samples. */
export const settingFor = (workspace: Workspace): Setting => {
  const setting = settingOf(workspace, 'r1', ({ file, line }) => `${file}#L${line}`);
  return { ...setting, source: { ...setting.source, digest: 'd1' } };
};

export const made = (workspace: Workspace, kind: string, choice: Choice): Document =>
  documentOf(kindNamed(kind)!, workspace, choice);

/** A document of the sample shop, or of another. */
export const formed = (
  format: FormatName,
  kind: string,
  choice: Choice,
  workspace: Workspace = sampleWorkspace(),
): string => FORMATS[format](made(workspace, kind, choice), settingFor(workspace));

/** One page, and a workshop file where one is needed. */
export const ofPage = (page: string, workshop?: string): Workspace =>
  workspaceOf({ 'page.melt': page, ...(workshop === undefined ? {} : { 'workshop.yaml': workshop }) });

/** One of each kind, and more where a kind has several faces. */
export const SAMPLES: readonly (readonly [name: string, kind: string, choice: Choice])[] = [
  ['melt-sheet-M57', 'melt-sheet', { entry: 'M57' }],
  ['melt-sheet-K21', 'melt-sheet', { entry: 'K21' }],
  ['melt-sheet-P8', 'melt-sheet', { entry: 'P8' }],
  ['lot-history-BAR-7', 'lot-history', { lot: 'BAR-7' }],
  ['lot-history-H17b', 'lot-history', { lot: 'H17b' }],
  ['stock-take', 'stock-take', {}],
  ['stock-take-2026-05-31', 'stock-take', { to: '2026-05-31', owner: 'high-fell' }],
  ['metal-account-2026-06', 'metal-account', { from: '2026-06-01', to: '2026-06-30' }],
  ['loss-report', 'loss-report', {}],
  ['assay-comparison', 'assay-comparison', {}],
  ['toll-statement-high-fell', 'toll-statement', { party: 'high-fell' }],
  ['bar-register', 'bar-register', {}],
  ['shipment-V7', 'shipment', { entry: 'V7' }],
  ['under-way-2026-06-24', 'under-way', { to: '2026-06-24' }],
  ['purchase-record', 'purchase-record', {}],
  ['trading-account', 'trading-account', {}],
  ['consumables', 'consumables', {}],
  ['recipes', 'recipes', {}],
  ['day-page-2026-05-20', 'day-page', { day: '2026-05-20' }],
];
