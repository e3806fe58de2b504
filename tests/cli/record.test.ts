/** The record in real repositories: seals, branches, comparisons. */
import { spawnSync } from 'node:child_process';
import { chmodSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { commit, driver, git, installDriver, MAY, repository, SHOP, sealedAsIn } from './repository';
import { fineweight, folderOf, removeFolders, stateOf } from './run';

afterAll(removeFolders);

beforeAll(installDriver, 60_000);

describe('a seal', () => {
  it('is written on a page of its own, holds, and is what another program reckons', () => {
    const root = repository({ 'may.melt': MAY, 'workshop.yaml': SHOP });
    const before = readFileSync(join(root, 'may.melt'), 'utf8');
    const done = fineweight(['seal', '2026-05-31'], { cwd: root });
    expect([done.err, done.exit]).toEqual(['', 0]);
    expect(done.out).toMatch(
      /^Sealed up to 2026-05-31: 2 entries, 2 things of the workshop file\.\n {2}s1-[0-9a-f]{64}\n/,
    );
    expect(readFileSync(join(root, 'may.melt'), 'utf8')).toBe(before);
    const page = readFileSync(join(root, 'seal-2026-05-31.melt'), 'utf8');
    const digest = /digest s1-([0-9a-f]{64})/.exec(page)![1];
    const form = fineweight(['seal', '2026-05-31', '--canonical'], { cwd: root }).out;
    expect(spawnSync('sha256sum', { input: form, encoding: 'utf8' }).stdout.split(' ')[0]).toBe(digest);
    expect(fineweight(['check'], { cwd: root }).out).toBe('2 pages checked: nothing found.\n');
    expect(fineweight(['seal', '2026-05-31'], { cwd: root })).toMatchObject({
      exit: 2,
      err: 'fineweight: The record is sealed up to 2026-05-31 already.\n',
    });
    // A checkout with other line ends, and a clone, hold the same seal.
    git(root, 'add', '.');
    git(root, 'commit', '-qm', 'sealed');
    const other = folderOf({});
    git(other, '-c', 'core.autocrlf=true', 'clone', '-q', root, 'clone');
    for (const name of readdirSync(join(other, 'clone')).filter((one) => one.endsWith('.melt'))) {
      const path = join(other, 'clone', name);
      writeFileSync(path, readFileSync(path, 'utf8').replaceAll('\n', '\r\n'));
    }
    expect(fineweight(['check', join(other, 'clone')]).out).toBe('2 pages checked: nothing found.\n');
    writeFileSync(join(root, 'may.melt'), MAY.replace('19.98', '19.89'));
    const broken = fineweight(['check'], { cwd: root });
    expect(broken.exit).toBe(1);
    // By the mark alone, without git; where that is not enough, git names it in every form of the report.
    expect(broken.out).toContain(
      'This is not what was sealed up to 2026-05-31: that read `out B 19.98 g bar on bench`. Undo the change;',
    );
    writeFileSync(join(root, 'may.melt'), MAY.replace('from beck-side', 'from becks'));
    for (const format of ['text', 'json', 'github', 'junit', 'sarif'])
      expect(fineweight(['check', '--format', format], { cwd: root }).out, format).toContain(
        'This is not what was sealed up to 2026-05-31: `receive A 20.00 g on bench from becks` was `receive A 20.00 g on bench from beck-side`.',
      );
    // What is gone is named by git too, however much it is, in one finding.
    writeFileSync(join(root, 'may.melt'), MAY.slice(0, MAY.indexOf('cast')));
    for (const args of [[], ['--since', 'HEAD'], ['--staged']]) {
      git(root, 'add', '.');
      const { out } = fineweight(['check', ...args], { cwd: root });
      expect(out).toContain(
        '`cast C1` of 2026-05-04, behind receive A, is gone that was sealed here. Put it back as it was.',
      );
      expect(out).toContain('1 finding in');
    }
    rmSync(join(root, 'may.melt'));
    expect(fineweight(['check', '--format', 'github'], { cwd: root }).out.trim().split('\n')).toEqual([
      expect.stringContaining('3 entries of 2026-05-04 are gone that were sealed here: the text "dry", `receive A'),
    ]);
    writeFileSync(join(root, 'may.melt'), MAY);
    writeFileSync(join(root, 'workshop.yaml'), SHOP.replace('0.01 g', '0.02 g'));
    expect(fineweight(['check'], { cwd: root }).out).toContain(
      'In the workshop file scales bench is not what was sealed here: `division 0.02 g` was `division 0.01 g`.',
    );
  });

  it('is refused over errors, unless it is wanted so', () => {
    const root = folderOf({ 'may.melt': `${MAY}cast C2\n  in A 20.00 g\n  out D 19.98 g bar\n` });
    const state = stateOf(root);
    const refused = fineweight(['seal', '2026-05-31'], { cwd: root });
    expect([refused.exit, refused.out]).toEqual([1, expect.stringContaining('Not sealed')]);
    expect(stateOf(root)).toEqual(state);
    expect(fineweight(['seal', '2026-05-31', '--with-errors'], { cwd: root }).exit).toBe(0);
  });

  it('holds photos, and finds one that was changed or is gone', () => {
    const root = folderOf({ 'may.melt': `${MAY}  photo scale.jpg\n`, 'scale.jpg': 'one' });
    expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
    expect(fineweight(['check'], { cwd: root }).exit).toBe(0);
    writeFileSync(join(root, 'scale.jpg'), 'two');
    expect(fineweight(['check'], { cwd: root }).out).toContain(
      'scale.jpg is not the file that was sealed up to 2026-05-31.',
    );
    spawnSync('rm', [join(root, 'scale.jpg')]);
    expect(fineweight(['check'], { cwd: root }).out).toContain(
      'error: scale.jpg is gone, which was sealed up to 2026-05-31: it does not lie beside this page. Put it back there; a page that is moved takes its files along.',
    );
  });

  it('is signed and verified with a key of the user, as README tells', () => {
    const root = folderOf({ 'may.melt': MAY });
    const keys = folderOf({});
    const ssh = (input: string, ...args: string[]): string => {
      const { status, stdout, stderr } = spawnSync('ssh-keygen', args, { cwd: keys, input, encoding: 'utf8' });
      return `${status} ${stdout}${stderr}`;
    };
    ssh('', '-q', '-t', 'ed25519', '-N', '', '-f', 'key');
    writeFileSync(join(keys, 'signers'), `hand@tarn-end ${readFileSync(join(keys, 'key.pub'), 'utf8')}`);
    expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
    const form = (): string => fineweight(['seal', '2026-05-31', '--canonical'], { cwd: root }).out;
    const { stdout } = spawnSync('ssh-keygen', ['-Y', 'sign', '-f', 'key', '-n', 'fineweight', '-'], {
      cwd: keys,
      input: form(),
      encoding: 'utf8',
    });
    writeFileSync(join(keys, 'seal.sig'), stdout);
    const verify = ['-Y', 'verify', '-f', 'signers', '-I', 'hand@tarn-end', '-n', 'fineweight', '-s', 'seal.sig'];
    expect(ssh(form(), ...verify)).toMatch(/^0 Good "fineweight" signature for hand@tarn-end/);
    writeFileSync(join(root, 'may.melt'), MAY.replaceAll('  in', '\t  in'));
    expect(ssh(form(), ...verify)).toMatch(/^0 /);
    writeFileSync(join(root, 'may.melt'), MAY.replace('19.98', '19.97'));
    expect(ssh(form(), ...verify)).not.toMatch(/^0 /);
  });

  it('that is gone is told once, by the seal after it', () => {
    const root = folderOf({ 'may.melt': MAY, 'june.melt': '2026-06-01\nreceive C 5.00 g\n' });
    for (const day of ['2026-05-31', '2026-06-30']) expect(fineweight(['seal', day], { cwd: root }).exit).toBe(0);
    const first = readFileSync(join(root, 'seal-2026-05-31.melt'), 'utf8');
    rmSync(join(root, 'seal-2026-05-31.melt'));
    const gone = fineweight(['check'], { cwd: root }).out;
    expect(gone).toContain('The seal before this one is gone. Put it back as it was');
    expect(gone).toContain('1 finding in 3 pages: 1 error.');
    // Made anew over a changed record it is another seal.
    writeFileSync(join(root, 'may.melt'), MAY.replace('19.98', '19.97'));
    expect(fineweight(['seal', '2026-05-31'], { cwd: root }).err).toContain('is sealed up to 2026-06-30 already');
    const second = readFileSync(join(root, 'seal-2026-06-30.melt'), 'utf8');
    rmSync(join(root, 'seal-2026-06-30.melt'));
    expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
    writeFileSync(join(root, 'seal-2026-06-30.melt'), second);
    expect(fineweight(['check'], { cwd: root }).out).toContain(
      'This seal was made after another one than that of 2026-05-31',
    );
    writeFileSync(join(root, 'may.melt'), MAY);
    writeFileSync(join(root, 'seal-2026-05-31.melt'), first);
    expect(fineweight(['check'], { cwd: root }).exit).toBe(0);
  });

  it('that comes in before another one, by a merge, is told once', () => {
    const root = repository({ 'may.melt': MAY, 'june.melt': '2026-06-01\nreceive C 5.00 g\n' });
    git(root, 'checkout', '-q', '-b', 'left');
    expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
    git(root, 'add', '.');
    git(root, 'commit', '-qm', 'left');
    git(root, 'checkout', '-q', 'main');
    expect(fineweight(['seal', '2026-06-30'], { cwd: root }).exit).toBe(0);
    git(root, 'add', '.');
    git(root, 'commit', '-qm', 'right');
    expect(git(root, 'merge', '-q', 'left')).not.toContain('failed');
    const { out } = fineweight(['check', '--format', 'github'], { cwd: root });
    expect(out.trim().split('\n')).toEqual([
      expect.stringContaining('This seal was made when there was none before it: that of 2026-05-31 came in since.'),
    ]);
  });
});

describe('branches', () => {
  const LEFT = `${MAY}\ncast L1\n  in 10.00 g of B\n  out L1a 9.99 g bar\n`;
  const RIGHT = `${MAY}\n2026-05-05\nreceive R 5.00 g\n`;

  it('of two hands merge, rebase and join in one, without a conflict', () => {
    const root = repository({ 'may.melt': MAY });
    commit(root, 'left', { 'may.melt': LEFT });
    commit(root, 'right', { 'may.melt': RIGHT });
    expect(git(root, 'merge', '-q', 'left')).not.toContain('failed');
    const text = readFileSync(join(root, 'may.melt'), 'utf8');
    expect(text).toContain('cast L1');
    expect(text.indexOf('cast L1')).toBeLessThan(text.indexOf('2026-05-05'));
    expect(fineweight(['check'], { cwd: root }).exit).toBe(0);
    git(root, 'checkout', '-q', '-B', 'rebased', 'left');
    git(root, 'reset', '-q', '--hard', 'left');
    commit(root, 'third', { 'may.melt': RIGHT });
    expect(git(root, 'rebase', '-q', 'left')).not.toContain('failed');
    expect(readFileSync(join(root, 'may.melt'), 'utf8')).toBe(text);
    for (const name of ['p', 'q', 'r'])
      commit(root, name, { [`${name}.melt`]: `2026-05-06\nreceive ${name}1 3.00 g\n` });
    expect(git(root, 'merge', '-q', '-m', 'all', 'p', 'q')).not.toContain('failed');
    expect(fineweight(['check'], { cwd: root }).out).toBe('4 pages checked: nothing found.\n');
  });

  it('that both gave a heat one name leave that heat to a human', () => {
    const root = repository({ 'may.melt': MAY });
    commit(root, 'left', { 'may.melt': `${MAY}\ncast X\n  in B 10.00 g\n  out X1 9.99 g bar\n\nnote left\n` });
    commit(root, 'right', { 'may.melt': `${MAY}\ncast X\n  in B 5.00 g\n  out X1 4.99 g bar\n\nnote right\n` });
    expect(git(root, 'merge', '-q', 'left')).toContain('both changed 2026-05-04 cast X');
    const text = readFileSync(join(root, 'may.melt'), 'utf8');
    expect(text.match(/^<{7}/gm)).toHaveLength(1);
    expect(text).toContain('\nnote left\n');
    expect(text).toContain('\nnote right\n');
    expect(fineweight(['check'], { cwd: root }).out).toContain(
      'Of `cast X` ours has `in B 5.00 g`, `out X1 4.99 g bar`; theirs',
    );
  });
});

describe('branches that both wrote in the workshop file', () => {
  const BOTH = 'scales:\n  bench: 0.01 g\n  fine: 0.001 g\nparties:\n  beck-side: customer\n';
  const shop = (root: string): string => readFileSync(join(root, 'workshop.yaml'), 'utf8');

  it('merge where each added a scale', () => {
    const root = repository({ 'may.melt': MAY, 'workshop.yaml': SHOP });
    commit(root, 'left', { 'workshop.yaml': BOTH });
    commit(root, 'right', { 'workshop.yaml': SHOP.replace('parties', '  yard: 0.1 kg\nparties') });
    expect(git(root, 'merge', '-q', 'left')).not.toContain('failed');
    expect(shop(root)).toBe(BOTH.replace('  fine', '  yard: 0.1 kg\n  fine'));
    expect(fineweight(['check'], { cwd: root }).exit).toBe(0);
  });

  it('are a conflict where each gave one scale another division, and check says so', () => {
    const root = repository({ 'may.melt': MAY, 'workshop.yaml': SHOP });
    commit(root, 'left', { 'workshop.yaml': BOTH.replace('0.01', '0.02') });
    commit(root, 'right', { 'workshop.yaml': SHOP.replace('0.01', '0.05') });
    expect(git(root, 'merge', '-q', 'left')).toContain('workshop.yaml: both changed scales bench');
    expect(shop(root)).toContain('<<<<<<< ours\n  bench: 0.05 g\n=======\n  bench: 0.02 g\n>>>>>>> theirs\n  fine');
    expect(fineweight(['check'], { cwd: root }).out).toContain('Two versions stand here side by side');
  });

  it('fall back on lines where a version cannot be read', () => {
    const root = repository({ 'may.melt': MAY, 'workshop.yaml': SHOP });
    commit(root, 'left', { 'workshop.yaml': BOTH });
    commit(root, 'right', { 'workshop.yaml': `${SHOP}limits\n` });
    expect(git(root, 'merge', '-q', 'left')).not.toContain('failed');
    expect(shop(root)).toBe(`${BOTH}limits\n`);
  });
});

describe('a comparison', () => {
  it('tells what changed in meaning, and nothing of spacing', () => {
    const root = repository({ 'may.melt': MAY });
    writeFileSync(join(root, 'may.melt'), MAY.replaceAll('  in', '\t in').replace('cast', 'CAST'));
    expect(fineweight(['diff', 'HEAD'], { cwd: root }).out).toBe('Nothing changed but spacing.\n');
    writeFileSync(join(root, 'may.melt'), `${MAY.replace('19.98', '19.89')}\nnote new\n`);
    const { out } = fineweight(['diff', 'HEAD'], { cwd: root });
    expect(out).toContain('  2026-05-04 cast C1\n    - out B 19.98 g bar on bench\n    + out B 19.89 g bar on bench\n');
    expect(out).toContain('  + 2026-05-04 note new\n');
    expect(out).toContain('  B\n    - 19.98 g\n    + 19.89 g\n');
    git(root, 'commit', '-qam', 'two');
    expect(fineweight(['diff', 'HEAD~1', 'HEAD'], { cwd: root }).out).toBe(out);
    expect(git(root, 'diff', 'HEAD~1')).toContain('+  out B 19.89 g bar on bench');
    expect(fineweight(['diff', '--output=x'], { cwd: root }).exit).toBe(2);
    expect(fineweight(['diff', 'no-such'], { cwd: root })).toMatchObject({ exit: 2, out: '' });
  });

  it('tells which values of the workshop file are others, and nothing of its spacing and comments', () => {
    const root = repository({ 'may.melt': MAY, 'workshop.yaml': SHOP });
    const shop = (text: string): string => {
      writeFileSync(join(root, 'workshop.yaml'), text);
      return fineweight(['diff', 'HEAD'], { cwd: root }).out;
    };
    expect(shop(`# ours\n${SHOP.replace('bench: 0.01 g', 'bench:   0.01 g  # new')}`)).toBe(
      'Nothing changed but spacing.\n',
    );
    expect(shop(`${SHOP}materials:\n  lead: { price: 4.20 USD/kg }\n`)).toBe(
      'Workshop file\n  materials lead price\n    + 4.20 USD/kg\n',
    );
    expect(shop(SHOP.replace('0.01', '0.02'))).toMatch(
      /^Workshop file\n {2}scales bench\n {4}- 0\.01 g\n {4}\+ 0\.02 g\n/,
    );
  });

  it('of what is checked since a commit says what is new in it, and what follows elsewhere', () => {
    const root = repository({
      'may.melt': MAY,
      'june.melt': '2026-06-01\ncast C3\n  in B 19.98 g on bench\n  out E 19.97 g bar on bench\n',
      'old.melt': '2026-04-01\nreceive Z 61,37 g\n',
    });
    expect(fineweight(['check'], { cwd: root }).exit).toBe(1);
    expect(fineweight(['check', '--since', 'HEAD'], { cwd: root })).toMatchObject({ exit: 0 });
    writeFileSync(join(root, 'may.melt'), MAY.replace('out B', 'out BB'));
    const since = fineweight(['check', '--since', 'HEAD', '--format', 'json'], { cwd: root });
    expect((JSON.parse(since.out) as { findings: { file: string; code: string }[] }).findings).toMatchObject([
      { file: 'june.melt', code: 'unknown-lot' },
    ]);
    expect(since.exit).toBe(1);
  });
});

describe('a check since a commit, of a sealed record', () => {
  const sealed = (): string => {
    const root = repository({
      'may.melt': MAY.replace('from beck-side', 'from beck-side\n  photo a.jpg'),
      'a.jpg': 'a',
    });
    expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
    git(root, 'add', '.');
    git(root, 'commit', '-qm', 'seal');
    expect(fineweight(['check', '--since', 'HEAD'], { cwd: root }).exit).toBe(0);
    return root;
  };

  it('finds a sealed photo that was changed, and one that is gone', () => {
    const root = sealed();
    writeFileSync(join(root, 'a.jpg'), 'b');
    const changed = fineweight(['check', '--since', 'HEAD'], { cwd: root });
    expect(changed.out).toContain('a.jpg is not the file that was sealed up to 2026-05-31.');
    expect(changed.exit).toBe(1);
    rmSync(join(root, 'a.jpg'));
    expect(fineweight(['check', '--since', 'HEAD'], { cwd: root }).out).toContain('a.jpg is gone, which was');
  });

  it('names a seal that was taken out, with what was changed under it', () => {
    const root = sealed();
    rmSync(join(root, 'seal-2026-05-31.melt'));
    writeFileSync(join(root, 'may.melt'), MAY.replace('19.98', '19.89'));
    const { err, exit } = fineweight(['check', '--since', 'HEAD'], { cwd: root });
    expect(err).toContain('The seal up to 2026-05-31 is gone: it stood in seal-2026-05-31.melt. Put it back');
    expect(exit).toBe(2);
  });

  it('is not made up to a day in years to come', () => {
    const root = sealed();
    writeFileSync(join(root, 'july.melt'), '2026-07-01\n\nnote a new month\n');
    const { err, exit } = fineweight(['seal', '2062-06-30'], { cwd: root });
    expect(err).toContain('nothing new could be written before that day: seal up to one nearer to it.');
    expect(exit).toBe(2);
  });

  it('names a seal that was made anew over what was changed under it', () => {
    const root = sealed();
    const before = /s1-[0-9a-f]{12}/.exec(readFileSync(join(root, 'seal-2026-05-31.melt'), 'utf8'))![0];
    rmSync(join(root, 'seal-2026-05-31.melt'));
    writeFileSync(join(root, 'may.melt'), MAY.replace('19.98', '19.89'));
    writeFileSync(join(root, 'seal-2026-05-31.melt'), sealedAsIn(root, '2026-05-31'));
    const { err, exit } = fineweight(['check', '--since', 'HEAD'], { cwd: root });
    expect(err).toContain(`The seal up to 2026-05-31 was made anew: it was ${before}… in seal-2026-05-31.melt`);
    expect(exit).toBe(2);
  });
});

it('a check since a commit, and of what is staged, follows the lots of a page that is gone', () => {
  const root = repository({
    'a.melt': '2026-05-04\nreceive A 20.00 g\n',
    'b.melt': '2026-05-05\ncast C\n  in A\n  out B 19.98 g bar\n',
  });
  git(root, 'rm', '-q', 'a.melt');
  for (const what of [['--since', 'HEAD'], ['--staged']]) {
    const { out, exit } = fineweight(['check', ...what], { cwd: root });
    expect(out).toContain('b.melt:3:6: warning: Nothing makes A: no `receive` and no `out` bears this name.');
    expect(exit).toBe(1);
  }
});

describe('a hook', () => {
  /** A journal below the repository's own folder, with the hook as README gives it. */
  const hooked = (): { root: string; commits: (...args: string[]) => string } => {
    const root = folderOf({ 'shop/may.melt': MAY.replace('20.00', '20,00'), 'shop/workshop.yaml': SHOP });
    git(root, 'init', '-q', '-b', 'main');
    const hook = join(root, '.git/hooks/pre-commit');
    writeFileSync(hook, `#!/bin/sh\nexec ${driver()} check --staged shop\n`);
    chmodSync(hook, 0o755);
    const commits = (...args: string[]): string => git(root, 'commit', '-qm', 'next', ...args);
    return { root, commits };
  };

  it('judges the first commit, and what is staged alone', () => {
    const { root, commits } = hooked();
    const page = join(root, 'shop/may.melt');
    git(root, 'add', '.');
    expect(commits()).toMatch(/^failed: shop\/may.melt:3:11: error: 20,00: a decimal has a point/);
    // Mended, but not staged.
    writeFileSync(page, MAY);
    expect(commits()).toContain('20,00');
    // Staged, and spoilt since; another page is wrong, and no part of it.
    git(root, 'add', '.');
    writeFileSync(page, `${MAY}junk\n`);
    writeFileSync(join(root, 'shop/june.melt'), Uint8Array.of(0xff, 0xfe, 0x41));
    expect(commits()).not.toContain('failed');
    expect(git(root, 'show', 'HEAD:shop/may.melt')).toBe(MAY);
    expect(commits('-a')).toContain('`junk` is no verb');
    writeFileSync(page, `${MAY}note one more\n`);
    expect(commits('shop/may.melt')).not.toContain('failed');
  });

  it('asks for the photos that are staged, and holds a seal against them', () => {
    const { root, commits } = hooked();
    const photo = join(root, 'shop/a.jpg');
    writeFileSync(join(root, 'shop/may.melt'), MAY.replace('from beck-side', 'from beck-side\n  photo a.jpg'));
    writeFileSync(photo, 'one');
    git(root, 'add', 'shop/may.melt', 'shop/workshop.yaml');
    expect(commits()).toContain('There is no file a.jpg beside this page.');
    git(root, 'add', '.');
    expect(commits()).not.toContain('failed');
    writeFileSync(photo, 'two');
    expect(fineweight(['seal', '2026-05-31'], { cwd: join(root, 'shop') }).exit).toBe(0);
    git(root, 'add', 'shop/seal-2026-05-31.melt');
    expect(commits()).toContain('a.jpg is not the file that was sealed up to 2026-05-31.');
    git(root, 'add', '.');
    expect(commits()).not.toContain('failed');
    git(root, 'rm', '-q', 'shop/a.jpg');
    expect(commits()).toContain('a.jpg is gone, which was sealed up to 2026-05-31');
  });

  it('says that there is no commit to check since, and no repository', () => {
    const root = folderOf({ 'may.melt': MAY });
    const err = (...args: string[]): string => fineweight(['check', ...args], { cwd: root }).err;
    expect(err('--since', 'HEAD')).toContain('not a git repository');
    expect(err('--staged')).toContain('not a git repository');
    git(root, 'init', '-q');
    expect(err('--since', 'HEAD')).toBe('fineweight: There is no commit here yet, and so no HEAD.\n');
    expect(err('--since', 'HEAD', '--staged')).toContain('--staged is since the last commit');
  });
});

describe('how the record stands', () => {
  it('tells seals, corrections, gaps in numbering and what was written late', () => {
    const steps = [1, 2, 5].map((at) => `cast M${at}\n  in 1.00 g of A\n  out O${at} 1.00 g bar\n`).join('');
    const root = folderOf({ 'may.melt': `2026-05-04\nreceive A 20.00 g\n${steps}` });
    expect(fineweight(['record'], { cwd: root }).out).toContain(
      'no cast M3 and M4 between M2 of 2026-05-04 and M5 of 2026-05-04',
    );
    expect(fineweight(['record'], { cwd: root }).out).toContain('Not known: the pages are in no git repository.');
    expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
    writeFileSync(
      join(root, 'june.melt'),
      '2026-06-01\ncorrect receive A, because misread\n  21.00 g was 20.00 g\nmore cast M1, because found in the slag\n  out O1b 0.01 g prills\n',
    );
    git(root, 'init', '-q');
    git(root, 'add', '.');
    git(root, 'commit', '-q', '-m', 'x', '--date', '2026-06-20T12:00:00Z');
    const { out, exit } = fineweight(['record'], { cwd: root });
    expect(exit).toBe(0);
    expect(out).toMatch(/up to 2026-05-31: 4 entries, s1-[0-9a-f]{12}…, holds\n {2}open since: 2 entries/);
    expect(out).toContain(
      'receive A of 2026-05-04, corrected on 2026-06-01: 21.00 g was 20.00 g, because misread (june.melt:3)',
    );
    expect(out).toContain('cast M1 of 2026-05-04, gone on with on 2026-06-01, because found in the slag (june.melt:4)');
    // A journal that came into git as a whole: when its entries were written git cannot show.
    expect(out).toContain(
      '6 entries, of 2026-05-04 to 2026-06-01, came with the first commit, of 2026-06-20: when they were written git cannot show',
    );
    expect(out).not.toContain('days after (');
    writeFileSync(join(root, 'late.melt'), '2026-06-10\nreceive B 10.00 g\n');
    git(root, 'add', '.');
    git(root, 'commit', '-q', '-m', 'y', '--date', '2026-06-21T12:00:00Z');
    const later = fineweight(['record'], { cwd: root }).out;
    expect(later).toContain('receive B of 2026-06-10 came on 2026-06-21, 11 days after (late.melt:2)');
    expect(later.match(/days after \(/g)).toHaveLength(1);
    for (const command of ['stock', 'account', 'history', 'reconcile'])
      expect(fineweight([command], { cwd: root }).out, command).toContain('1 figure here was corrected');
    expect(fineweight(['record', '--days', '60'], { cwd: root }).out).toContain('None that git shows.');
  });

  it('is said in every form of a report: what was corrected, and of which rows', () => {
    const page = `${MAY}assay A by fire, Au 75.0 %\nreceive Z 1.00 g\nreceive Y 1.00 g\n\n2026-06-01\ncorrect cast C1\n  in A 20.01 g was 20.00 g, because misread\ncorrect assay A by fire, Au 57.0 % was 75.0 %\n  because digits swapped\nvoid receive Y, because entered twice\n`;
    const cwd = folderOf({ 'may.melt': page });
    const out = (...args: string[]): string => fineweight([...args], { cwd }).out;
    const says = [
      'cast C1 of 2026-05-04, corrected on 2026-06-01: in A 20.01 g was 20.00 g, because misread.',
      'assay A of 2026-05-04, corrected on 2026-06-01: Au 57.0 % was 75.0 %, because digits swapped.',
      'receive Y of 2026-05-04, taken back on 2026-06-01, because entered twice.',
    ];
    const told = (...args: string[]): unknown =>
      (JSON.parse(out(...args, '--format', 'json')) as { corrections: { says: string }[] }).corrections.map(
        (one) => one.says,
      );
    for (const command of ['stock', 'account', 'history']) expect(told(command), command).toEqual(says);
    expect(told('reconcile')).toEqual(says.slice(0, 2));
    const rows = (...args: string[]): string[][] =>
      out(...args, '--format', 'csv')
        .trim()
        .split('\r\n')
        .map((row) => row.split(','));
    const column = (of: string[][], name: string): string[] => of.slice(1).map((row) => row[of[0]!.indexOf(name)]!);
    const stock = rows('stock');
    expect(column(stock, 'lot').map((lot, at) => [lot, column(stock, 'corrected')[at]])).toEqual([
      ['B', '2'],
      ['Z', '0'],
    ]);
    expect(new Set(column(rows('account'), 'corrected'))).toEqual(new Set(['3']));
    expect(column(rows('trace', 'B'), 'corrected')).toEqual(['no', 'yes']);
    const read = rows('reconcile');
    expect(
      column(read, 'corrected').map((one, at) => `${column(read, 'of')[at]} ${column(read, 'entry')[at]} ${one}`),
    ).toEqual(expect.arrayContaining(['A cast C1 yes', 'B cast C1 no', 'A assay A yes', 'A receive A no']));
    expect(out('history', '--format', 'csv')).toContain(`corrections,1,says,"${says[0]}"`);
    const tables = join(folderOf({}), 'tables');
    expect(fineweight(['export', tables], { cwd }).exit).toBe(0);
    expect(readFileSync(join(tables, 'corrections.csv'), 'utf8')).toContain(
      `may.melt/2026-05-04/receive Y,2026-06-01,true,"${says[2]}"`,
    );
  });
});
