/** Seals as git knows them: one that is gone, one made anew, and two from two hands. */
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { commit, commitAll, git, installDriver, MAY, repository, sealedAsIn } from './repository';
import { fineweight, folderOf, removeFolders } from './run';

beforeAll(installDriver, 60_000);
afterAll(removeFolders);

const SEAL = 'seal-2026-05-31.melt';
const digestIn = (root: string): string => /s1-[0-9a-f]{64}/.exec(readFileSync(join(root, SEAL), 'utf8'))![0];
const short = (digest: string): string => `${digest.slice(0, 15)}…`;

const sealed = (): string => {
  const root = repository({ 'may.melt': MAY });
  expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
  commitAll(root, 'seal');
  return root;
};

describe('the newest seal', () => {
  it('that was taken out is missed by every check, as long as git knows it', () => {
    const root = sealed();
    const digest = digestIn(root);
    git(root, 'rm', '-q', SEAL);
    writeFileSync(join(root, 'may.melt'), MAY.replace('19.98', '19.89'));
    commitAll(root, 'without a word');
    commit(root, 'later', { 'june.melt': '2026-06-01\nreceive C 5.00 g\n' }, 'HEAD');
    const { out, err, exit } = fineweight(['check'], { cwd: root });
    expect(out).toContain('2 pages');
    expect(out).not.toContain('Not everything could be read');
    expect(err).toMatch(
      /^fineweight: The seal up to 2026-05-31 is gone: it stood in seal-2026-05-31\.melt \(commit [0-9a-f]+\)\. Put it back; what it closed is corrected, not opened again\. If two hands sealed apart, take out what stands of both, and seal anew: `fineweight seal 2026-05-31 --because "two hands sealed apart"`\.\n$/,
    );
    expect(exit).toBe(2);
    const { failures } = JSON.parse(fineweight(['check', '--format', 'json'], { cwd: root }).out);
    expect(failures).toEqual([expect.stringContaining('The seal up to 2026-05-31 is gone')]);
    // What went before their commit is no fault of what is checked since, and not passed over either.
    writeFileSync(join(root, 'june.melt'), '2026-06-01\nreceive C 5.00 g\nreceive D 6.00 g\n');
    git(root, 'add', '-A');
    for (const more of ['--staged', '--since=HEAD', '--since=HEAD~1']) {
      const { err: mentioned, exit: passed } = fineweight(['check', ...more.split('=')], { cwd: root });
      expect(mentioned, more).toMatch(
        /^fineweight: The seal up to 2026-05-31 was gone before: it stood in seal-2026-05-31\.melt \(commit [0-9a-f]+\)\. `fineweight check` tells what to do\.\n$/,
      );
      expect(passed, more).toBe(0);
    }
    git(root, 'checkout', '-q', 'HEAD', '--', '.');
    const record = fineweight(['record'], { cwd: root });
    expect(record.out).toContain(`up to 2026-05-31: GONE, ${short(digest)} stood in ${SEAL} (commit `);
    expect(record.exit).toBe(1);
    // Nor is it made anew in silence, neither here nor elsewhere.
    const refused = fineweight(['seal', '2026-05-31'], { cwd: root });
    expect(refused.err).toContain('The record was sealed up to 2026-05-31 once: git has it');
    expect(existsSync(join(root, SEAL))).toBe(false);
    writeFileSync(join(root, SEAL), sealedAsIn(root, '2026-05-31'));
    expect(fineweight(['check'], { cwd: root }).err).toContain(
      `The seal up to 2026-05-31 was made anew: it was ${short(digest)} in ${SEAL} (commit `,
    );
    git(root, 'checkout', '-q', 'main~1', '--', '.');
    expect(fineweight(['check'], { cwd: root })).toMatchObject({ exit: 0, err: '' });
  });

  it('is missed whatever git is told of the look of pages and histories', () => {
    const root = sealed();
    writeFileSync(join(root, '.gitattributes'), '*.melt -diff\n*.melt binary\n');
    writeFileSync(join(root, 'june.melt'), '2026-06-10\n\n\nreceive Z 1.00 g\n');
    commitAll(root, 'attributes');
    git(root, 'rm', '-q', SEAL);
    commitAll(root, 'without a word');
    git(root, 'replace', 'HEAD', 'HEAD~2');
    for (const [name, value] of Object.entries({
      'log.follow': 'true',
      'log.diffMerges': 'off',
      'core.bigFileThreshold': '10',
      'diff.fineweight.binary': 'true',
      'diff.orderFile': 'nowhere',
      'blame.ignoreRevsFile': 'nowhere',
    }))
      git(root, 'config', name, value);
    expect(fineweight(['check'], { cwd: root }).err).toContain('The seal up to 2026-05-31 is gone');
    expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(2);
    // Nor does the form in which git compares pages change the line at which an entry came late.
    git(root, 'config', 'diff.fineweight.textconv', 'cat -s');
    expect(fineweight(['record'], { cwd: root }).out).toContain('(june.melt:4)');
  });

  it('is not passed over in silence where git cannot list its history', () => {
    const root = sealed();
    const blob = git(root, 'rev-parse', `HEAD:${SEAL}`).trim();
    git(root, 'rm', '-q', SEAL);
    commitAll(root, 'without a word');
    rmSync(join(root, '.git/objects', blob.slice(0, 2), blob.slice(2)), { force: true });
    const { err } = fineweight(['check'], { cwd: root });
    expect(err).toContain('The history is not known (git could not list all of it: `git fsck` tells what is broken)');
  });

  it('may stand on another page, and a journal beside it has its own', () => {
    const root = sealed();
    git(root, 'mv', SEAL, 'closed.melt');
    commitAll(root, 'moved');
    commit(root, 'main', { 'may.melt': MAY.replaceAll('  in', '\t in') }, 'HEAD');
    expect(fineweight(['check'], { cwd: root })).toMatchObject({ exit: 0, err: '' });
    expect(fineweight(['record'], { cwd: root }).out).not.toContain('GONE');
    const two = folderOf({ 'a/may.melt': MAY, 'a/workshop.yaml': '', 'b/may.melt': MAY });
    git(two, 'init', '-q');
    expect(fineweight(['seal', '2026-05-31', 'a'], { cwd: two }).exit).toBe(0);
    commitAll(two, 'seal');
    git(two, 'rm', '-q', `a/${SEAL}`);
    expect(fineweight(['check', 'b'], { cwd: two }).err).toBe('');
    expect(fineweight(['check', 'a'], { cwd: two }).err).toContain('is gone');
  });
});

it('two weights of one day that only the names of pages put in order are named when they are sealed, and keep it', () => {
  const weighed = (weight: string): string => `2026-05-06\nweigh B ${weight} g on bench\n`;
  const root = repository({ 'may.melt': MAY, 'bench.melt': weighed('19.98'), 'yard.melt': weighed('19.97') });
  const { out, exit } = fineweight(['seal', '2026-05-31'], { cwd: root });
  expect(out).toContain(
    'Sealed in the order that only the names of the pages give, which they keep from now on: yard.melt:2.\n',
  );
  expect(exit).toBe(0);
  commitAll(root, 'seal');
  renameSync(join(root, 'yard.melt'), join(root, 'attic.melt'));
  git(root, 'add', '-A');
  for (const more of [[], ['--staged'], ['--since', 'HEAD']])
    expect(fineweight(['check', ...more], { cwd: root }).out).toContain(
      'This stood before weigh B on the other page when the record was sealed up to 2026-05-31; what the pages are called now puts it behind. So 19.98 g of B is left instead of 19.97 g.',
    );
});

describe('two hands that sealed apart', () => {
  const apart = (): { root: string; digests: string[] } => {
    const root = repository({ 'may.melt': MAY });
    const digests = [];
    for (const hand of ['left', 'right']) {
      commit(root, hand, { [`${hand}.melt`]: `2026-05-06\nreceive ${hand}-1 3.00 g\n` });
      expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
      digests.push(digestIn(root));
      // One of them keeps it on a page of another name: else git has the two for a conflict.
      if (hand === 'left') renameSync(join(root, SEAL), join(root, 'closed.melt'));
      commitAll(root, `${hand} seals`);
    }
    expect(git(root, 'merge', '-q', 'left')).not.toContain('failed');
    return { root, digests };
  };
  it('are told so, with the way out: one seal over both, that names the two', () => {
    const { root, digests } = apart();
    const told = fineweight(['check'], { cwd: root });
    expect(told.out).toContain(
      'Two seals close the record up to 2026-05-31: two hands sealed apart, and neither knew the other\'s entries. Take both out, and seal anew: `fineweight seal 2026-05-31 --because "two hands sealed apart"`.',
    );
    git(root, 'rm', '-q', 'closed.melt', SEAL);
    expect(fineweight(['seal', '2026-05-31', '--because', 'two hands sealed apart'], { cwd: root })).toMatchObject({
      err: '',
      exit: 0,
    });
    commitAll(root, 'sealed by both');
    const page = readFileSync(join(root, SEAL), 'utf8');
    for (const digest of digests) expect(page).toContain(`  replaces ${digest}\n`);
    expect(fineweight(['check'], { cwd: root })).toMatchObject({ exit: 0, err: '' });
    for (const since of ['HEAD~1', 'left', 'main'])
      expect(fineweight(['check', '--since', since], { cwd: root }), since).toMatchObject({ exit: 0, err: '' });
    expect(fineweight(['record'], { cwd: root }).out).toMatch(
      /up to 2026-05-31: 4 entries, s1-[0-9a-f]{12}…, holds\n {4}made anew, was s1-[0-9a-f]{12}… and s1-[0-9a-f]{12}…, because two hands sealed apart\n/,
    );
    // That it replaces them is sealed too.
    writeFileSync(join(root, SEAL), page.replace(/ {2}replaces .*\n/, ''));
    const { out, err } = fineweight(['check'], { cwd: root });
    expect(out + err).toContain('the seal does not hold');
    expect(err).toContain('was made anew');
  });

  it('on the same page are a conflict, and the way out is the same', () => {
    const root = repository({ 'may.melt': MAY });
    for (const hand of ['left', 'right']) {
      commit(root, hand, { [`${hand}.melt`]: `2026-05-06\nreceive ${hand}-1 3.00 g\n` });
      expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
      commitAll(root, `${hand} seals`);
    }
    expect(git(root, 'merge', '-q', 'left')).toContain('failed');
    // Who takes the one for the better is told of the other, and of both ways.
    git(root, 'checkout', '--ours', SEAL);
    expect(fineweight(['check'], { cwd: root }).err).toMatch(
      /was made anew: .* Put it back; .* If two hands sealed apart, take out what stands of both, and seal anew: `fineweight seal 2026-05-31 --because/,
    );
    rmSync(join(root, SEAL));
    // Both are found though neither is checked out: one is what is being merged.
    expect(fineweight(['seal', '2026-05-31', '--because', 'two hands'], { cwd: root })).toMatchObject({ exit: 0 });
    expect(readFileSync(join(root, SEAL), 'utf8').match(/^ {2}replaces /gm)).toHaveLength(2);
    commitAll(root, 'merged');
    expect(fineweight(['check'], { cwd: root })).toMatchObject({ exit: 0, err: '' });
  });

  it('up to different days seal up to the later one', () => {
    const root = repository({ 'may.melt': MAY });
    for (const [hand, day] of [
      ['left', '2026-05-31'],
      ['right', '2026-06-15'],
    ] as const) {
      commit(root, hand, { [`${hand}.melt`]: `2026-05-06\nreceive ${hand}-1 3.00 g\n` });
      expect(fineweight(['seal', day], { cwd: root }).exit).toBe(0);
      commitAll(root, `${hand} seals`);
    }
    expect(git(root, 'merge', '-q', 'left')).not.toContain('failed');
    const { out } = fineweight(['check'], { cwd: root });
    expect(out).toContain('seal anew: `fineweight seal 2026-06-15 --because "two hands sealed apart"`');
    // Nor is the other hand's entry told to move, which its own seal closes.
    expect(out).toContain(
      'This was not there when the record was sealed up to 2026-05-31, but the seal of 2026-06-15 closes it: two hands sealed apart. Take both seals out',
    );
    git(root, 'rm', '-q', SEAL, 'seal-2026-06-15.melt');
    const because = ['--because', 'two hands sealed apart'];
    expect(fineweight(['seal', '2026-05-31', ...because], { cwd: root }).err).toContain(
      'The record was sealed up to 2026-06-15 once: seal it anew up to that day or a later one.',
    );
    expect(fineweight(['seal', '2026-06-15', ...because], { cwd: root }).exit).toBe(0);
    commitAll(root, 'sealed by both');
    expect(fineweight(['check'], { cwd: root })).toMatchObject({ exit: 0, err: '' });
    writeFileSync(join(root, 'june.melt'), '2026-06-20\nreceive C 5.00 g\n');
    expect(fineweight(['seal', '2026-06-30', ...because], { cwd: root }).err).toContain('leave --because out');
  });
});

it('one hand that takes a seal out, changes what it closed and seals anew with a reason is seen ever after', () => {
  const root = sealed();
  const old = short(digestIn(root));
  rmSync(join(root, SEAL));
  writeFileSync(join(root, 'may.melt'), `${MAY.replace('19.98', '19.97')}receive C 5.00 g on bench from beck-side\n`);
  const told = [
    `made anew, was ${old}, because lost #3 of it`,
    `${old}: cast C1 of 2026-05-04 (may.melt:4) changed: \`out B 19.97 g bar on bench\` was \`out B 19.98 g bar on bench\``,
    `${old}: 1 entry more than it closed`,
  ];
  const { out } = fineweight(['seal', '2026-05-31', '--because', 'lost #3 of  it'], { cwd: root });
  for (const words of told) expect(out).toContain(words);
  git(root, 'add', '-A');
  expect(fineweight(['check', '--staged'], { cwd: root }).err).toContain('One thing that it closed changed: cast C1');
  commitAll(root, 'anew');
  for (const words of told) expect(fineweight(['record'], { cwd: root }).out).toContain(words);
  const check = fineweight(['check'], { cwd: root });
  expect(check.err).toBe(
    `fineweight: The seal up to 2026-05-31 was made anew, was ${old}, because lost #3 of it. One thing that it closed changed: cast C1 of 2026-05-04 (may.melt:4) changed: \`out B 19.97 g bar on bench\` was \`out B 19.98 g bar on bench\`.\n`,
  );
  expect(check.exit).toBe(0);
  // The reason is sealed: in the text that is hashed it stands behind what is replaced.
  const text = fineweight(['seal', '2026-05-31', '--canonical'], { cwd: root }).out;
  expect(text).toMatch(/\nreplaces s1-[0-9a-f]{64}\nbecause lost #3 of it\n/);
  const sum = (form: string): string => spawnSync('sha256sum', { input: form, encoding: 'utf8' }).stdout.slice(0, 64);
  expect(`s1-${sum(text)}`).toBe(digestIn(root));
  const page = readFileSync(join(root, SEAL), 'utf8');
  writeFileSync(join(root, SEAL), page.replace('because lost', 'because found'));
  expect(fineweight(['check'], { cwd: root }).out).toContain('the seal does not hold');
  // One that was made when reasons were not sealed holds without.
  const without = `s1-${sum(text.replace(/because .*\n/, ''))}`;
  writeFileSync(join(root, SEAL), page.replace(digestIn(root), without));
  expect(fineweight(['check'], { cwd: root }).out).not.toContain('the seal does not hold');
});

it('a photo or paper of any name is the sealed one in a clone that changes line ends', () => {
  const papers = {
    'lab.csv': 'Au,81.2\nAg,17.4\n',
    'slip.TXT': 'one\ntwo\n',
    'pic.JPG': 'a\r\nb\n',
    'scan.webp': 'x\ny\n',
    'sub/note': 'z\n',
  };
  const names = Object.keys(papers);
  const page = MAY.replace('from beck-side', ['from beck-side', ...names.map((name) => `  paper ${name}`)].join('\n'));
  const root = repository({ 'may.melt': page, ...papers });
  expect(fineweight(['seal', '2026-05-31'], { cwd: root }).exit).toBe(0);
  commitAll(root, 'seal');
  const other = folderOf({});
  git(other, '-c', 'core.autocrlf=true', 'clone', '-q', '-c', 'core.autocrlf=true', root, 'clone');
  const clone = join(other, 'clone');
  expect(readFileSync(join(clone, 'lab.csv'), 'utf8')).toBe(papers['lab.csv']);
  expect(fineweight(['check'], { cwd: clone })).toMatchObject({ exit: 0, err: '' });
  // What git would change in them without that line is found.
  writeFileSync(join(clone, 'lab.csv'), papers['lab.csv'].replaceAll('\n', '\r\n'));
  expect(fineweight(['check'], { cwd: clone }).out).toContain('lab.csv is not the file that was sealed');
});
