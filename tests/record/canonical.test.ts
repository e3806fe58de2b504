/** The digest of a seal, against another program's SHA-256 over a text that is built without ours. */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { draftOf, draftText } from '../../server/record/draft';
import { canonicalText, periodUpTo } from '../../server/record/seal';
import { sha256 } from '../../server/record/sha256';
import { withProofs } from '../../server/workspace/update';
import { workspaceOf } from '../support/workspace';
import { canonicalForm } from './canonical-form';

const sha256sum = (text: string): string =>
  spawnSync('sha256sum', { input: text, encoding: 'utf8' }).stdout.split(' ')[0]!;

const SAMPLE = resolve(__dirname, '../../samples/tarn-end');
const PAGES = Object.fromEntries(
  ['2026-05.melt', '2026-06.melt', 'high-fell.melt'].map((name) => [name, readFileSync(join(SAMPLE, name), 'utf8')]),
);
const PROOFS = new Map(
  ['rt-5.jpg', 'harbour-1162.pdf', 'harbour-1188.pdf'].map((path) => [path, `sha256-${'0'.repeat(64)}`]),
);

const NOTHING = { files: [], replaces: [], because: undefined };

describe('SHA-256', () => {
  it('is that of the standard', () => {
    expect(sha256('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
    expect(sha256('')).toBe('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855');
    for (const length of [1, 55, 56, 63, 64, 65, 1000, 100_000]) {
      const text = '±éx'.repeat(length).slice(0, length);
      expect(sha256(text), `${length}`).toBe(sha256sum(text));
    }
  });
});

describe('a seal', () => {
  it('is the SHA-256 of the form that the reference states', () => {
    const page =
      '2026-05-04  dry,  and windy\r\n\r\nRECEIVE te-31 from own-dredge\r\n\tgross   238.42g wet on bench , tare tray-2  # rusty\r\n  note "as  found",  twice\r\n# of no account\r\nplan melt M1\r\n  in te-31\r\n2026-06-01\r\nnote later\r\n';
    const workspace = workspaceOf({
      'page.melt': page,
      'workshop.yaml':
        'scales:\n  fine: 0.001 g\n  bench:\n    note: by the window\n    repeatability:  0.008 g\n    division: 0.01 g\ncontainers:\n  tray-2: 38.45 g\nlimits:\n  coverage: 3\n',
    });
    const draft = draftOf(workspace, '2026-05-31');
    const form = `fineweight seal s1
up to 2026-05-31
after nothing
workshop containers tray-2
  tare 38.45 g
workshop scales bench
  division 0.01 g
  repeatability 0.008 g
record
2026-05-04
  dry , and windy
receive te-31 from own-dredge
  gross 238.42 g wet on bench , tare tray-2
  note "as  found" , twice
`;
    expect(canonicalText(periodUpTo(workspace, '2026-05-31'), NOTHING)).toBe(form);
    expect(draft).toMatchObject({ kind: 'ready', digest: `s1-${sha256sum(form)}` });
  });

  it('of the sample is the SHA-256 of the form built by the test', () => {
    const workspace = withProofs(workspaceOf(PAGES), PROOFS);
    const files = (names: readonly string[]): string[] => names.map((name) => `file ${name} ${PROOFS.get(name)}`);
    const first = draftOf(workspace, '2026-05-31');
    const may = canonicalForm(PAGES, { upTo: '2026-05-31', files: files(['rt-5.jpg']) });
    const own = canonicalText(periodUpTo(workspace, '2026-05-31'), NOTHING);
    expect(own.split('record\n')[1]).toBe(may.split('record\n')[1]);
    if (first.kind !== 'ready') throw new Error('not ready');
    expect(first.digest).toBe(`s1-${sha256sum(may)}`);

    const pages = { ...PAGES, 'seal.melt': `2026-05-31\n${draftText('2026-05-31', first)}\n` };
    const second = draftOf(withProofs(workspaceOf(pages), PROOFS), '2026-06-30');
    const june = canonicalForm(pages, {
      upTo: '2026-06-30',
      before: '2026-05-31',
      after: `2026-05-31 ${first.digest}`,
      files: files(['harbour-1162.pdf', 'harbour-1188.pdf']),
    });
    expect(second).toMatchObject({ digest: `s1-${sha256sum(june)}` });
  });
});
