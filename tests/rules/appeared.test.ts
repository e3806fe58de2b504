/** An entry that stands in a sealed time and was not there: what may have happened, and what to do. */
import { expect, test } from 'vitest';
import { draftOf, draftText } from '../../server/record/draft';
import { findingsOf } from '../../server/rules/findings';
import { fixed, workspaceOf } from '../support/workspace';

const MAY = '2026-05-04\nreceive A 20.00 g\n';

/** The seal of what one hand wrote. */
const sealOf = (files: Readonly<Record<string, string>>, upTo = '2026-05-31'): string => {
  const draft = draftOf(workspaceOf(files), upTo);
  return `${upTo}\n\n${draft.kind === 'ready' ? draftText(upTo, draft) : ''}\n`;
};

const broken = (files: Readonly<Record<string, string>>, file: string) => {
  const workspace = workspaceOf(files);
  return {
    workspace,
    findings: findingsOf(workspace, file).filter(({ code }) => code === 'seal-broken'),
  };
};

test('a merge that kept the seal of one side: seal anew with both, or move it', () => {
  const files = { 'may.melt': MAY, 'seal.melt': sealOf({ 'may.melt': MAY }) };
  const { findings, workspace } = broken({ ...files, 'y.melt': '2026-05-12\nreceive Y 10.00 g\n' }, 'y.melt');
  expect(findings.map(({ says }) => says)).toEqual([
    'This was not there when the record was sealed up to 2026-05-31. If another hand wrote it and a merge brought it, take the seal out and seal anew with both: `fineweight seal 2026-05-31 --because "two hands sealed apart"`. If it was written late, move it under a later day.',
  ]);
  expect(findings[0]!.fixes!.map(({ title }) => title)).toEqual([
    'Take the seal of 2026-05-31 out, to seal anew with receive Y',
  ]);
  expect(workspace.pages.size).toBe(3);
});

test('moved under an open day of its page it keeps its day, and the seal holds', () => {
  const files = { 'may.melt': MAY, 'seal.melt': sealOf({ 'may.melt': MAY }) };
  const page = '2026-05-12\nreceive Y 10.00 g\n\n2026-06-02\nreceive Q 1.00 g\n\n2026-06-05\nnote relined\n';
  const { findings, workspace } = broken({ ...files, 'page.melt': page }, 'page.melt');
  expect(findings[0]!.fixes![0]!.title).toBe('Move it under the day that is open on this page');
  const mended = fixed(workspace, findings[0]!);
  expect(mended).toBe(
    '2026-05-12\n\n2026-06-02\nreceive Q 1.00 g\nreceive Y 10.00 g\n  note of 2026-05-12, written after the seal\n\n2026-06-05\nnote relined\n',
  );
  expect(broken({ ...files, 'page.melt': mended }, 'page.melt').findings).toEqual([]);
});

test('what bears the name of a sealed entry may be its correction', () => {
  const files = { 'may.melt': MAY, 'seal.melt': sealOf({ 'may.melt': MAY }) };
  const { findings } = broken({ ...files, 'y.melt': '2026-05-12\nreceive A 21.00 g\n' }, 'y.melt');
  expect(findings[0]!.says).toContain(
    'If it mends what is sealed, write `correct receive A of 2026-05-04` under a later day.',
  );
  expect(findings[0]!.related!.map(({ says }) => says)).toEqual(['the seal of 2026-05-31', 'sealed, of the same name']);
});

test('where later seals stand all of them go', () => {
  const first = { 'may.melt': MAY, 'seal.melt': sealOf({ 'may.melt': MAY }) };
  const both = { ...first, 'june.melt': '2026-06-02\nreceive Q 1.00 g\n' };
  const files = { ...both, 'seal-2.melt': sealOf(both, '2026-06-30') };
  const { findings } = broken({ ...files, 'y.melt': '2026-05-12\nreceive Y 10.00 g\n' }, 'y.melt');
  expect(findings[0]!.says).toContain(
    'take this seal and those after it out and seal anew with both: `fineweight seal 2026-06-30 --because',
  );
  expect(findings[0]!.fixes).toEqual([]);
});
