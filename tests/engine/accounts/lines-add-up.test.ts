/** What is left over in an account is the sum of its lines by kind of step and between two weighings; that of a year the sum of its months. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { accountsOf } from '../../../server/workspace/accounts';
import { workspaceOf } from '../../support/workspace';

const SAMPLES = resolve(__dirname, '../../../samples');

const accountsIn = (folder: string) => {
  const names = readdirSync(join(SAMPLES, folder)).filter((name) => name.endsWith('.melt') || name === 'workshop.yaml');
  return accountsOf(
    workspaceOf(Object.fromEntries(names.map((name) => [name, readFileSync(join(SAMPLES, folder, name), 'utf8')]))),
  );
};

// In tarn-end a sample goes by its own assay, and its lot by the umpire's: what of it went over is in no line.
test.each(['selling', 'bench'].flatMap((folder) => ['Au', 'Ag'].map((metal) => [folder, metal] as const)))(
  'the lines of %s, %s',
  (folder, metal) => {
    const { steps, untold, changed, unaccounted } = accountsIn(folder).period(metal);
    const lines = [...steps, ...untold, changed].reduce((so, { grams }) => so + grams.value, 0);
    expect(lines).toBeCloseTo(unaccounted.value, 9);
  },
);

test.each(['tarn-end', 'selling', 'bench'].flatMap((folder) => ['Au', 'Ag'].map((metal) => [folder, metal] as const)))(
  'the months of %s, %s',
  (folder, metal) => {
    const { period } = accountsIn(folder);
    const parts = [
      period(metal, undefined, '2026-05-14'),
      period(metal, '2026-05-15', '2026-09-20'),
      period(metal, '2026-09-21'),
    ];
    const sum = parts.reduce((so, { unaccounted }) => so + unaccounted.value, 0);
    expect(sum).toBeCloseTo(period(metal).unaccounted.value, 9);
  },
);
