/** What the gear has been through, held against what the look back and the findings say of the same. */
import { describe, expect, it } from 'vitest';
import { livesUntil } from '../../server/engine/longview/crucibles';
import { findingsOf } from '../../server/rules/findings';
import { longViewOf } from '../../server/workspace/long-view';
import type { Workspace } from '../../server/workspace/workspace';
import { made, ofPage } from '../support/documents';

const WORKSHOP =
  'crucibles:\n  C1: { volume: 60 mL, heats: 3, since: 2026-05-03 }\n  C2: { volume: 60 mL, heats: 1 }\n';

/** Five melts in C1, one a day; another C1 took the place of the first on the third day. */
const PAGE = [1, 2, 3, 4, 5]
  .map(
    (at) =>
      `2026-05-0${at}\nreceive A${at} 40.00 g, material scrap\nmelt M${at}, crucible C1\n  in A${at}\n  out B${at} 39.95 g bar`,
  )
  .join('\n');
const CORRECTED = `${PAGE}\n2026-05-09\ncorrect melt M4 of 2026-05-04, crucible C2 was C1, because misread\ncorrect melt M5 of 2026-05-05, crucible C2 was C1, because misread`;

/** Crucible, heats in the period, in all, what it usually lasts. */
const listed = (workspace: Workspace, choice = {}): readonly (readonly string[])[] =>
  made(workspace, 'consumables', choice)
    .sections.filter(({ title }) => title === 'Crucibles')
    .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'table' ? block.rows : [])))
    .map(({ cells }) => cells.slice(0, 4).map(({ text }) => text));

const lived = (workspace: Workspace, to?: string): readonly string[] =>
  livesUntil(longViewOf(workspace).crucibles(), to).map(({ name, heats }) => `${name} ${heats.length}`);

describe('heats of a crucible', () => {
  it('that took the place of another under its name are its own alone', () => {
    const workspace = ofPage(PAGE, WORKSHOP);
    expect(listed(workspace)).toEqual([['C1', '3', '3', '3 heats']]);
    expect(lived(workspace)).toEqual(['C1 3', 'C2 0']);
  });

  it('in a period before that day are those of the other one', () => {
    const workspace = ofPage(PAGE, WORKSHOP);
    expect(listed(workspace, { to: '2026-05-02' }).map((cells) => cells.slice(0, 3))).toEqual([['C1', '2', '2']]);
  });

  it('are counted to the end of the period, not of the record', () => {
    const workspace = ofPage(PAGE, WORKSHOP);
    expect(listed(workspace, { from: '2026-05-04', to: '2026-05-04' })).toEqual([['C1', '1', '2', '3 heats']]);
    expect(lived(workspace, '2026-05-04')).toEqual(['C1 2', 'C2 0']);
  });

  it('are in the crucible that a correction names, in a document as in the look back and in what is told', () => {
    const workspace = ofPage(CORRECTED, WORKSHOP);
    expect(listed(workspace)).toEqual([
      ['C1', '1', '1', '3 heats'],
      ['C2', '2', '2', '1 heats: past it'],
    ]);
    expect(lived(workspace)).toEqual(['C1 1', 'C2 2']);
    expect(findingsOf(workspace, 'page.melt').map(({ says }) => says)).toEqual([
      expect.stringMatching(/^C2 has done 2 heats since 2026-05-04; it usually lasts 1\./),
    ]);
  });
});

describe('a crucible that was given up later', () => {
  it('is told as past its life at the end of an earlier period, and not as given up', () => {
    const workspace = ofPage(PAGE, 'crucibles:\n  C1: { volume: 60 mL, heats: 3, until: 2026-05-09 }\n');
    const [now] = longViewOf(workspace).crucibles();
    const [then] = livesUntil([now!], '2026-05-05');
    expect([now!.crucible?.until, then!.crucible?.until, then!.heats.length]).toEqual(['2026-05-09', undefined, 5]);
  });
});

describe('a scale that drifts', () => {
  it('is told of beside its checks, in the words of the finding', () => {
    const lots = [1, 2, 3, 1, 2, 1, 3, 2, 1, 2, 1, 1].map(
      (hundredths, at) => `receive A${at} ${20 + at}.00 g on bench\nweigh A${at} ${20 + at}.0${hundredths} g on bench`,
    );
    const workspace = ofPage(
      `2026-05-04\n${lots.join('\n')}`,
      'scales: { bench: { division: 0.01 g, repeatability: 0.02 g } }\nlimits: { cusum limit: 3 }\n',
    );
    const [told] = findingsOf(workspace, 'page.melt').filter(({ code }) => code === 'scale-drifts');
    const sentences = (choice = {}): readonly string[] =>
      made(workspace, 'consumables', choice)
        .sections.filter(({ title }) => title === 'Scales checked')
        .flatMap(({ blocks }) =>
          blocks.flatMap((block) => (block.form === 'sentences' ? block.sentences.map(({ text }) => text) : [])),
        );
    expect(sentences()).toEqual([told!.says]);
    expect(told!.says).toMatch(/^bench reads more each time: of \d+ lots weighed on it twice that differ, /);
    expect(sentences({ to: '2026-05-03' })).toEqual([]);
  });
});
