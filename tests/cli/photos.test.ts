/** Photos and papers as links, locked, and called otherwise: the hook says what the whole check says. */
import { renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { commitAll, git, installDriver, repository } from './repository';
import { fineweight, folderOf, removeFolders } from './run';

beforeAll(installDriver, 60_000);
afterAll(removeFolders);

const PAGE = '2026-05-04\nreceive A 20.00 g\n  paper papers/slip.pdf\n';
const FILES = { 'may.melt': PAGE, 'papers/slip.pdf': 'weighed 20.00 g', 'papers/copy.txt': 'another' };

/** What the hook and the whole check say of the files; the same. */
const both = (root: string): string => {
  git(root, 'add', '-A', '.');
  const [staged, whole] = [['--staged'], []].map((more) => fineweight(['check', ...more], { cwd: root }));
  const told = (out: string): string => out.replace(/\n*\d+ (?:page|finding).*\n$/, '');
  expect(told(staged!.out)).toBe(told(whole!.out));
  expect(staged!.exit).toBe(whole!.exit);
  return told(whole!.out);
};

const sealed = (): string => {
  const root = repository(FILES);
  expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
  commitAll(root, 'seal');
  return root;
};

const linkTo = (root: string, target: string): void => {
  rmSync(join(root, 'papers/slip.pdf'), { force: true });
  symlinkSync(target, join(root, 'papers/slip.pdf'));
};

describe('a paper that is a link', () => {
  it('is what it leads to in the folder', () => {
    const root = sealed();
    renameSync(join(root, 'papers/slip.pdf'), join(root, 'scan.pdf'));
    linkTo(root, '../scan.pdf');
    expect(both(root)).toBe('');
    writeFileSync(join(root, 'scan.pdf'), 'weighed 21.00 g');
    expect(both(root)).toContain('papers/slip.pdf is not the file that was sealed up to 2026-05-31.');
  });

  it('and leads out of it, round in a circle or nowhere, shows nothing of what was sealed', () => {
    const root = sealed();
    const other = folderOf({ 'slip.pdf': 'weighed 20.00 g' });
    linkTo(root, join(other, 'slip.pdf'));
    expect(both(root)).toContain('papers/slip.pdf, which was sealed up to 2026-05-31, cannot be read');
    expect(fineweight(['check', '--since', 'HEAD'], { cwd: root }).out).toContain('cannot be read');
    linkTo(root, 'nowhere.pdf');
    expect(both(root)).toContain('papers/slip.pdf is gone, which was sealed up to 2026-05-31');
  });

  it('and leads out of the folder is not sealed', () => {
    const root = repository(FILES);
    linkTo(root, join(folderOf({ 'slip.pdf': '' }), 'slip.pdf'));
    expect(fineweight(['seal', '2026-05-31'], { cwd: root }).err).toContain('cannot be read, and so not be sealed');
  });
});

describe('a sealed paper that was called otherwise', () => {
  it('is named where it lies beside', () => {
    const root = sealed();
    renameSync(join(root, 'papers/slip.pdf'), join(root, 'papers/weights.pdf'));
    expect(both(root)).toContain(
      'papers/slip.pdf is gone, which was sealed up to 2026-05-31: weights.pdf, beside it, is the same file. Give it back the name that the entry has.',
    );
    rmSync(join(root, 'papers/weights.pdf'));
    expect(both(root)).toContain('it does not lie beside this page');
  });
});
