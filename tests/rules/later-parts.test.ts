/** A step written in several entries: what is amiss is told at the line that it hangs on, in whichever of them that stands. */
import { expect, test } from 'vitest';
import { pageWorkspace, said } from '../support/workspace';

const PAGE = `2026-06-02

receive G1 20.00 g on bench
melt M5
  in G1 20.00 g on bench
  out B5 19.99 g button on bench
  out none slag
weigh B5 19.99 g on bench
`;

test('more out than in is told at the weight that nothing else checks, though that was written a day later', () => {
  expect(said(pageWorkspace(`${PAGE}\n2026-06-03\n\nmore melt M5\n  out B5b 6.00 g button on bench\n`))).toEqual([
    'more-out-than-in at "6.00 g"',
  ]);
});

test('a loss is told there too', () => {
  const page = `${PAGE}\nreceive G2 5.00 g on bench\nmore melt M5\n  in G2 5.00 g on bench\n`;
  expect(said(pageWorkspace(page)).map((one) => one.split(' ', 1)[0])).toContain('loss-above-usual');
});

test('and each once', () => {
  const page = PAGE.replace('weigh B5 19.99 g on bench\n', 'more melt M5\n  out B5b 6.00 g button on bench\n');
  expect(said(pageWorkspace(page)).filter((one) => one.startsWith('more-out-than-in')).length).toBe(1);
});
