/** What the editor asks its git before a seal is made: whether one stood once, on whichever page. */
import { expect, test, vi } from 'vitest';

const digest = (letter: string): string => `s1-${letter.repeat(64)}`;
const uri = (path: string) => ({ path, toString: () => `file://${path}` });

/** By commit, the newest first: the pages that it changed, as they were before. */
const commits: Record<string, Record<string, string | undefined>> = {
  c3: { '/j/may.melt': `2026-05-31\nseal 2026-05-31 digest ${digest('a')}\n  marks before 1\n` },
  c2: { '/j/may.melt': `2026-05-31\nseal 2026-05-31 digest ${digest('a')}\n`, '/j/notes.md': 'seal 1 digest x' },
  c1: { '/j/new.melt': undefined, '/j/june.melt': '2026-06-01\nreceive A 20.00 g\n' },
};
const shownOf: Record<string, Record<string, string | undefined>> = {
  HEAD: {},
  'c3~': commits.c3!,
  'c2~': commits.c2!,
  'c1~': commits.c1!,
};

vi.mock('../../client/git', () => ({
  repositoryOf: async () => ({
    log: async ({ path }: { path: string }) =>
      path.includes('seal-') ? [] : Object.keys(commits).map((hash) => ({ hash })),
    diffWith: async () => [],
    diffBetween: async (_: string, hash: string) =>
      Object.keys(commits[hash]!).map((path) => ({ originalUri: uri(path) })),
  }),
  shown: async (_: unknown, commit: string, { path }: { path: string }) => shownOf[commit]?.[path],
}));

test('a seal that stood on a page of the journal itself is found, once', async () => {
  const { formerSeals } = await import('../../client/former-seals');
  const found = await formerSeals(uri('/j/may.melt') as never);
  expect(found).toEqual([{ uri: 'file:///j/may.melt', text: `seal 2026-05-31 digest ${digest('a')}\n` }]);
});
