/** Two branches to one page: by what was done, not by lines. */
import { describe, expect, it } from 'vitest';
import { mergePages } from '../../server/record/merge';
import { findingsOf } from '../../server/rules/findings';
import { seeded } from '../support/random';
import { fixed, pageWorkspace, said } from '../support/workspace';
import { apart, colliding, type Pair } from './branches';

const LABELS = { ours: 'ours', theirs: 'theirs' };

const merged = ({ base, ours, theirs }: Pick<Pair, 'base' | 'ours' | 'theirs'>) => {
  const made = mergePages(base, ours, theirs, LABELS);
  if (!made) throw new Error('not merged');
  return made;
};

const linesOf = (text: string): string[] =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');

describe('two hundred pairs of branches', () => {
  it('whose work is apart merge without a conflict, lose nothing and check clean', () => {
    const random = seeded(20260701);
    for (let round = 0; round < 200; round++) {
      const pair = apart(random);
      const { text, conflicts } = merged(pair);
      expect(conflicts, `round ${round}`).toEqual([]);
      expect(said(pageWorkspace(text)), `round ${round}\n${text}`).toEqual([]);
      const has = new Set(linesOf(text));
      const base = new Set(linesOf(pair.base));
      const lost = [...linesOf(pair.ours), ...linesOf(pair.theirs)].filter((line) => !has.has(line) && !base.has(line));
      expect(lost, `round ${round}`).toEqual([]);
      // The other way round it says the same.
      expect(new Set(linesOf(merged({ ...pair, ours: pair.theirs, theirs: pair.ours }).text))).toEqual(has);
    }
  });

  it('with a planted collision are all named', () => {
    const random = seeded(20260702);
    let [asConflict, asFinding] = [0, 0];
    for (let round = 0; round < 200; round++) {
      const pair = colliding(random);
      const { text, conflicts } = merged(pair);
      const findings = findingsOf(pageWorkspace(text), 'page.melt').map(({ says }) => says);
      const named = findings.filter((one) => one.includes(pair.collides!));
      expect(named.length, `round ${round} ${pair.collides}\n${text}\n${findings.join('\n')}`).toBeGreaterThan(0);
      if (conflicts.length > 0) asConflict++;
      else asFinding++;
    }
    console.log(
      `of 200 collisions ${asConflict} are conflicts of one entry, ${asFinding} merge clean and are found in the page`,
    );
  });
});

describe('a conflict', () => {
  const conflict = (ours: string, theirs: string): string =>
    `2026-05-04\nreceive A 20.00 g\n<<<<<<< ours\n${ours}\n=======\n${theirs}\n>>>>>>> theirs\n`;
  const says = (page: string): string[] => findingsOf(pageWorkspace(page), 'page.melt').map((one) => one.says);

  it('is told by what each side says, and which of them balances', () => {
    const page = conflict(
      'cast C1\n  in A 20.00 g\n  out B 19.98 g bar',
      'cast C1\n  in A 20.00 g\n  out B 25.98 g bar',
    );
    expect(says(page)).toEqual([
      'Two versions stand here side by side. Of `cast C1` ours has `out B 19.98 g bar`; theirs `out B 25.98 g bar`. Only ours balances. Keep one and take out the marker lines; if they are two things, give one another name.',
    ]);
  });

  it('that cuts through an entry too', () => {
    const page = `2026-05-04\nreceive A 20.00 g\ncast C1\n<<<<<<< ours\n  in A 20.00 g\n  out B 19.98 g bar\n=======\n  in A 20.00 g\n  out B 29.98 g bar\n>>>>>>> theirs\n`;
    expect(says(page)[0]).toContain(
      'Of `this entry` ours has `out B 19.98 g bar`; theirs `out B 29.98 g bar`. Only ours balances.',
    );
  });

  it('of two things keeps both, by a fix', () => {
    const page = conflict('cast C1\n  in A 10.00 g\n  out B 9.99 g bar', 'note counted');
    const workspace = pageWorkspace(page);
    const [found] = findingsOf(workspace, 'page.melt');
    expect(found?.fixes?.map(({ title }) => title)).toEqual(['Keep ours', 'Keep theirs', 'Keep both']);
    expect(fixed(workspace, found!, 2)).toBe(
      '2026-05-04\nreceive A 20.00 g\ncast C1\n  in A 10.00 g\n  out B 9.99 g bar\nnote counted\n',
    );
  });

  it('in the style that shows the common version', () => {
    const page =
      '2026-05-04\n<<<<<<< ours\nreceive A 20.00 g\n||||||| base\nreceive A 21.00 g\n=======\nreceive A 22.00 g\n>>>>>>> theirs\n';
    expect(says(page)[0]).toContain('ours has `receive A 20.00 g`; theirs `receive A 22.00 g`');
  });

  it('is not merged over', () => {
    expect(mergePages('note a\n', conflict('note b', 'note c'), 'note a\n', LABELS)).toBeUndefined();
  });
});

describe('a merge', () => {
  it('takes what one side took out, and keeps what the other changed', () => {
    const base = '2026-05-04\n\nnote one\nnote two\n';
    expect(merged({ base, ours: '2026-05-04\n\nnote two\n', theirs: base }).text).toBe('2026-05-04\n\nnote two\n');
  });

  it('takes the text of a day that both began from the one who wrote one', () => {
    const base = '2026-05-04\nreceive A 20.00 g\n';
    const bare = `${base}\n2026-05-05\nreceive B 3.00 g\n`;
    const windy = `${base}\n2026-05-05  windy  # from the west\nreceive C 4.00 g\n`;
    for (const [ours, theirs] of [
      [bare, windy],
      [windy, bare],
    ] as const) {
      const { text, conflicts } = merged({ base, ours, theirs });
      expect(conflicts).toEqual([]);
      expect(text).toContain('2026-05-05  windy  # from the west\n');
      expect(linesOf(text)).toHaveLength(5);
    }
    const calm = windy.replace('windy', 'calm');
    expect(merged({ base, ours: calm, theirs: windy }).conflicts).toEqual(['2026-05-05']);
    // One that had a text, which one hand took out and the other changed, is left to them.
    const cut = bare.replace('05-05\n', '05-05  windy\n');
    expect(merged({ base: cut, ours: bare, theirs: calm }).conflicts).toEqual(['2026-05-05']);
  });

  it('leaves what one side wrote under the day that it wrote it under, though the other dated that day anew', () => {
    const base = '2026-06-02\n\nweigh OLD-1 5.00 g\n\n2026-06-03\n\nnote kiln\n';
    const dated = base.replace('06-03', '06-04');
    const received = `${base}receive N1 5.00 g\n`;
    for (const [ours, theirs] of [
      [dated, received],
      [received, dated],
    ] as const)
      expect(merged({ base, ours, theirs })).toEqual({
        text: '2026-06-02\n\nweigh OLD-1 5.00 g\n\n2026-06-03\n\nreceive N1 5.00 g\n\n2026-06-04\n\nnote kiln\n',
        conflicts: [],
      });
  });

  it('leaves its day over a conflict, also over one above which there is no other day', () => {
    const base = '2026-06-03\n\nmelt M1\n  in A1 5.00 g\n  out B1 4.90 g button\n';
    const made = merged({ base, ours: 'note begun\n', theirs: base.replace('4.90', '4.95') });
    expect(made.conflicts).toEqual(['2026-06-03 melt M1']);
    expect(made.text.indexOf('2026-06-03')).toBeLessThan(made.text.indexOf('<<<<<<<'));
    expect(made.text).toContain('4.95');
  });

  it('keeps the line ends of ours, and the comments of both', () => {
    const base = '2026-05-04\r\nreceive A 20.00 g\r\n';
    const made = merged({
      base,
      ours: '2026-05-04\r\nreceive A 20.00 g  # left\r\n',
      theirs: '2026-05-04\nreceive A 20.00 g\n# right\nnote new\n',
    });
    expect(made).toEqual({ text: '2026-05-04\r\nreceive A 20.00 g  # left\r\n# right\r\nnote new\r\n', conflicts: [] });
  });

  it('leaves each comment at the line that it was written at, though the other hand changed that line', () => {
    const base = [
      '2026-05-04',
      'melt M1  # as ever',
      '  in A 20.00 g',
      '  add borax-glass 5 g  # old',
      '  out B 19.90 g button',
      '',
      'note end',
      '',
    ].join('\n');
    const ours = base
      .replace('19.90 g button', '19.80 g button')
      .replace('borax-glass 5 g', 'borax-glass 6 g')
      .replace('melt M1', 'melt M1, hand AB');
    const theirs = base
      .replace('20.00 g', '20.00 g  # read twice')
      .replace('# old', '# from the new bag')
      .replace('  out B 19.90 g button', '  # poured late\n  out B 19.90 g button  # clean');
    const both = [
      '2026-05-04',
      'melt M1, hand AB  # as ever',
      '  in A 20.00 g  # read twice',
      '  add borax-glass 6 g  # from the new bag',
      '  # poured late',
      '  out B 19.80 g button  # clean',
      '',
      'note end',
      '',
    ].join('\n');
    expect(merged({ base, ours, theirs })).toEqual({ text: both, conflicts: [] });
    expect(merged({ base, ours: theirs, theirs: ours })).toEqual({ text: both, conflicts: [] });
    // Both wrote one: both stay, there.
    const other = ours.replace('# old', '# weighed');
    expect(merged({ base, ours: other, theirs }).text).toContain(
      '  add borax-glass 6 g  # weighed\n  # from the new bag\n  # poured late\n',
    );
    // The line is gone: what was said of it is not.
    const without = base.replace('  add borax-glass 5 g  # old\n', '');
    expect(merged({ base, ours: without, theirs }).text).toContain(
      '  in A 20.00 g  # read twice\n  # from the new bag\n  # poured late\n  out B 19.90 g button  # clean\n',
    );
  });

  it('offers a free name where a name was given twice', () => {
    const workspace = pageWorkspace('2026-05-04\nreceive A 20.00 g\nreceive A 31.50 g\nreceive A-2 1.00 g\n');
    const [found] = findingsOf(workspace, 'page.melt');
    expect(found?.fixes?.map(({ title }) => title)).toEqual(['Call this one A-3']);
    expect(fixed(workspace, found!)).toContain('receive A-3 31.50 g');
  });
});
