/** Entries that belong together: `more`, `plan`, `void`, `correct`, and a lot under a new name. */
import { describe, expect, it } from 'vitest';
import { findingsOf } from '../../server/rules/findings';
import type { Section } from '../../server/syntax/tree';
import { withTexts } from '../../server/workspace/update';
import type { Workspace } from '../../server/workspace/workspace';
import { everyMetal, everything, pageWorkspace, said, workspaceOf } from '../support/workspace';

const step = (workspace: Workspace, verb: string, name: string) => {
  const entry = workspace.pages
    .get('page.melt')!
    .entries.find((one) => one.verb === verb && one.name?.name === name && one.prefix === undefined)!;
  return workspace.book.step(entry);
};

const SCRAP = '2026-05-04\nreceive A 20.00 g\n';

describe('more', () => {
  it('adds to the balance of the step that it goes on with', () => {
    const page = `${SCRAP}cast C1\n  in A 20.00 g\n  out B 18.90 g bar\n\n2026-05-05\nmore cast C1\n  out 1.07 g prills`;
    // 20.00 − 18.90 − 1.07 = 0.03
    const workspace = pageWorkspace(page);
    expect(step(workspace, 'cast', 'C1')?.unaccounted?.value.toString()).toBe('0.03');
    expect(said(workspace)).toEqual([]);
  });

  it('lets an unnamed product join the lot of that name', () => {
    const page = `${SCRAP}cast C1\n  in A 20.00 g\n  out B 18.90 g bar\n  out 0.50 g prills\n\n2026-05-05\nmore cast C1\n  out 0.57 g prills`;
    const workspace = pageWorkspace(page);
    expect(workspace.book.lot('C1.prills')?.left?.value.toString()).toBe('1.07');
    expect(said(workspace)).toEqual([]);
  });
});

describe('plan', () => {
  it('books nothing, and takes nothing of its lots', () => {
    const workspace = pageWorkspace(
      `${SCRAP}plan cast C1\n  in A\n  out B bar\ncast C1\n  in A 20.00 g\n  out B 19.98 g bar`,
    );
    expect(workspace.book.lot('B')?.births).toHaveLength(1);
    expect(said(workspace)).toEqual([]);
  });
});

describe('void', () => {
  it('takes its entry out of the reckoning', () => {
    const page = `${SCRAP}cast C1\n  in A 20.00 g\n  out B 25.00 g bar\nvoid cast C1, because written twice\ncast C2\n  in A 20.00 g\n  out D 19.98 g bar`;
    const workspace = pageWorkspace(page);
    expect(step(workspace, 'cast', 'C1')).toBeUndefined();
    expect(workspace.book.lot('A')?.gone).toBe(true);
    expect(said(workspace)).toEqual([]);
  });

  it('and a correction read the scale and the place too, where two entries say the same but for these', () => {
    const left = (line: string): readonly string[] => {
      const page = `${SCRAP}weigh A 20.10 g on bench, at safe\nweigh A 20.20 g on fine, at counter\nweigh A 20.20 g on bench, at counter\n\n2026-05-06\n${line}, because misread`;
      const workspace = pageWorkspace(page);
      const amiss = findingsOf(workspace, 'page.melt').filter(({ code }) => code === 'correction-amiss');
      if (amiss.length > 0) return amiss.map(({ says }) => says);
      return workspace.book
        .lot('A')!
        .events.flatMap(({ kind, entry, weight: { mass } }) =>
          kind === 'weighed' ? `${entry.said.at?.name} ${entry.amount?.scale?.name} ${mass!.value}` : [],
        );
    };
    const [safe, fine, counter] = ['safe bench 20.1', 'counter fine 20.2', 'counter bench 20.2'];
    expect(left('void weigh A at safe')).toEqual([fine, counter]);
    expect(left('void weigh A on fine')).toEqual([safe, counter]);
    expect(left('void weigh A on bench, at counter')).toEqual([safe, fine]);
    expect(left('correct weigh A 20.00 g was 20.20 g on fine')).toEqual([safe, 'counter fine 20', counter]);
    expect(left('correct weigh A at counter was safe')).toEqual(['counter bench 20.1', fine, counter]);
    expect(left('void weigh A at counter')[0]).toContain('Two entries are `weigh A`, and nothing is taken back');
  });

  it('of what is not there is told, and so is a correction of what was taken back', () => {
    const says = (page: string): string[] => findingsOf(pageWorkspace(page), 'page.melt').map((one) => one.says);
    expect(says(`${SCRAP}void receive A1, because entered twice`)).toEqual(['There is no `receive A1` to take back.']);
    expect(says(`${SCRAP}void receive A of 2026-05-03, because entered twice`)).toEqual([
      'There is no `receive A` to take back on 2026-05-03.',
    ]);
    expect(
      says(`${SCRAP}void receive A, because entered twice\ncorrect receive A, because misread\n  21 g was 20 g`),
    ).toEqual(['`receive A` was taken back: there is nothing left of it to correct.']);
    expect(says(`${SCRAP}void receive A`)).toEqual(['What is taken back says why: write `because` and the reason.']);
  });

  it.each(['receive A 20.00 g', 'cast A\n  in X 20.00 g\n  out A 20.00 g bar', 'note A'])(
    'is told anew when what it speaks of comes or goes: %s',
    (made) => {
      const mends = `void ${made.split(' ')[0]} A, because entered twice\ncorrect ${made.split(' ')[0]} A, because so`;
      const pages = [`2026-05-04\n${made}\n`, '2026-05-04\nreceive Z 1.00 g\n'];
      for (const [first, second] of [pages, pages.toReversed()]) {
        const before = workspaceOf({ 'may.melt': first!, 'page.melt': `2026-06-01\n${mends}\n` });
        const after = withTexts(before, new Map([['may.melt', second!]]));
        expect(everything(after)).toEqual(
          everything(workspaceOf({ 'may.melt': second!, 'page.melt': `2026-06-01\n${mends}\n` })),
        );
      }
    },
  );
});

it('one of two of a name is corrected again by what a correction has made it say', () => {
  const page =
    '2026-05-04\nreceive B 97.30 g\nweigh B 97.20 g\nweigh B 97.199 g\n2026-05-06\ncorrect weigh B of 2026-05-04 97.21 g was 97.20 g, because misread\n2026-05-08\n';
  const amiss = (more: string): number =>
    findingsOf(pageWorkspace(page + more), 'page.melt').filter(({ says }) => says.startsWith('Two entries are')).length;
  expect(amiss('correct weigh B of 2026-05-04 97.22 g was 97.21 g, because misread again')).toBe(0);
  expect(amiss('void weigh B of 2026-05-04 97.21 g, because not ours')).toBe(0);
  expect(amiss('correct weigh B of 2026-05-04 97.22 g was 97.25 g, because misread again')).toBe(1);
});

it('what is taken back stands above; one of the same name below it is another', () => {
  const workspace = pageWorkspace(
    '2026-05-04\nquote Au 1.00 USD/ozt\nvoid quote Au of 2026-05-04, because misread\nquote Au 2490.00 USD/ozt',
  );
  expect(said(workspace)).toEqual([]);
});

describe('correct', () => {
  it('counts the new weight, everywhere that follows', () => {
    const page = `${SCRAP}cast C1\n  in A 20.00 g\n  out B 19.89 g bar\n\n2026-05-06\ncorrect cast C1\n  out B 19.98 g was 19.89 g, because digits swapped\n\n2026-05-07\ncast C2\n  in B 19.98 g\n  out D 19.97 g bar`;
    const workspace = pageWorkspace(page);
    expect(step(workspace, 'cast', 'C1')?.unaccounted?.value.toString()).toBe('0.02');
    expect(workspace.book.lot('B')?.handovers.map(({ explained }) => explained)).toEqual([true]);
    expect(said(workspace)).toEqual([]);
  });

  it('may say that a product never was', () => {
    const page = `${SCRAP}cast C1\n  in A 20.00 g\n  out B 19.98 g bar\n  out P 0.60 g prills\n\n2026-05-06\ncorrect cast C1\n  out P none was 0.60 g`;
    const workspace = pageWorkspace(page);
    expect(step(workspace, 'cast', 'C1')?.verdict).toBe('usual');
    expect(workspace.book.lot('P')?.births ?? []).toEqual([]);
  });

  it('hands on what a corrected balance solves for', () => {
    const page = `${SCRAP}cast C1\n  in A 20.00 g\n  out B ? g bar\n  out P 6.00 g prills\ncorrect cast C1\n  out P 0.60 g was 6.00 g, because point moved\ncast C2\n  in B 19.40 g\n  out D 19.39 g bar`;
    const workspace = pageWorkspace(page);
    // 20.00 − 0.60 = 19.40
    expect(workspace.book.lot('B')?.events[0]?.weight.mass?.value.toString()).toBe('19.4');
    expect(said(workspace)).toEqual([]);
  });
});

describe('correct, in any entry and any slot', () => {
  const named = (page: string, prefix?: string): string[] => said(pageWorkspace(page, prefix));
  const LATER = '\n2026-05-06\n';

  it('a weight that came in', () => {
    const workspace = pageWorkspace(
      `2026-05-04\nreceive A 20.60 g${LATER}correct receive A\n  20.06 g was 20.60 g, because digits swapped\ncast C1\n  in A 20.06 g\n  out B 20.05 g bar`,
    );
    expect(workspace.book.lot('A')?.handovers.map(({ explained }) => explained)).toEqual([true]);
    expect(said(workspace)).toEqual([]);
  });

  it('a lot that was taken: the other one is whole again', () => {
    const page = `2026-05-04\nreceive A 20.00 g\nreceive A2 20.00 g\ncast C1\n  in A\n  out B 19.99 g bar${LATER}correct cast C1\n  in A2 was A, because wrong bag named\n2026-05-07\ncast C2\n  in A\n  out D 19.98 g bar`;
    const workspace = pageWorkspace(page);
    expect(said(workspace)).toEqual([]);
    expect(workspace.book.lot('A2')?.gone).toBe(true);
    // The same by an edit that brings the correction.
    const before = pageWorkspace(page.replace('in A2 was A, because wrong bag named', 'note nothing'));
    const after = withTexts(before, new Map([['page.melt', page]]));
    expect(everything(after)).toEqual(everything(workspace));
  });

  it('a photo or paper', () => {
    const page = `2026-05-04\nreceive A 20.00 g\n  photo a.jpg\n  paper slip-1.pdf${LATER}correct receive A\n  paper slip-2.pdf was slip-1.pdf, because wrong slip`;
    expect(named(page)).toEqual([]);
    const account = pageWorkspace(page).book.lot('A')!.events[0]!.entry;
    expect(account.said.papers?.map(({ name }) => name)).toEqual(['slip-2.pdf']);
    expect(account.said.photos?.map(({ name }) => name)).toEqual(['a.jpg']);
    expect(named(page.replace('was slip-1', 'was slip-7'))).toHaveLength(1);
  });

  it('an assay: what follows from it follows', () => {
    const page = `2026-05-04\nreceive A 20.00 g\nassay A by fire\n  Au 19.2 %, Ag 8 %${LATER}correct assay A\n  Au 91.2 % was 19.2 %, because digits swapped`;
    const workspace = pageWorkspace(page);
    expect(said(workspace)).toEqual([]);
    expect(everyMetal(workspace).join()).toContain('Au 0.912');
    expect(everyMetal(workspace).join()).toContain('Ag 0.08');
  });

  it('a scale, in the first line of an entry and of a line of it', () => {
    const page = `2026-05-04\nreceive A 20.60 g on bench\ncast C1\n  in A 20.60 g on bench\n  out B 20.59 g bar on bench${LATER}correct receive A on fine was bench, because misnamed\ncorrect cast C1, because misnamed\n  in A on fine was bench\n  out B 20.58 g was 20.59 g, on fine was bench`;
    const workspace = pageWorkspace(page, 'scales:\n  bench: 0.01 g\n  fine: 0.001 g\n');
    expect(said(workspace)).toEqual([]);
    const [received, used] = workspace.book.lot('A')!.events;
    expect([received, used].map((event) => event!.weight.divisionGrams)).toEqual([0.001, 0.001]);
    expect(workspace.book.lot('B')!.events[0]!.weight.divisionGrams).toBe(0.001);
  });

  it('twice: the second speaks of what the first left', () => {
    const page = `2026-05-04\nreceive A 20.60 g${LATER}correct receive A\n  20.06 g was 20.60 g, because digits swapped\ncorrect receive A\n  20.08 g was 20.06 g, because weighed again`;
    expect(pageWorkspace(page).book.lot('A')?.left?.value.toString()).toBe('20.08');
    expect(named(page)).toEqual([]);
  });

  it('changes nothing where the old value is not there, and says so', () => {
    const page = `2026-05-04\nreceive A 20.60 g${LATER}correct receive A\n  20.06 g was 20.50 g, because misread`;
    expect(pageWorkspace(page).book.lot('A')?.left?.value.toString()).toBe('20.6');
    expect(named(page)).toEqual(['correction-amiss at "20.06 g was 20.50 g"']);
  });

  it('takes back what came in', () => {
    const page = `2026-05-04\nreceive A 20.00 g\nreceive B 20.00 g${LATER}void receive B, because entered twice`;
    expect(pageWorkspace(page).book.lot('B')?.births ?? []).toEqual([]);
    expect(named(page)).toEqual([]);
  });
});

describe('relabel', () => {
  it('hands the weight on to the new name, through a chain of names', () => {
    const page = `${SCRAP}relabel A to A2\nrelabel A2 to A3\ncast C1\n  in A3 20.00 g\n  out B 19.98 g bar`;
    const workspace = pageWorkspace(page);
    expect(workspace.book.lot('A3')?.handovers.map(({ explained }) => explained)).toEqual([true]);
    expect(said(workspace)).toEqual([]);
  });
});

describe('a chain of weights that were not written', () => {
  it('is carried along, link by link', () => {
    const page = `${SCRAP}cast C1\n  in A\n  out B bar\ncast C2\n  in B\n  out D bar\nweigh D 21.00 g`;
    const workspace = pageWorkspace(page);
    expect(workspace.book.lot('D')?.handovers.map(({ explained }) => explained)).toEqual([false]);
  });
});

describe('unfinished merges', () => {
  it('do not make the rest of the record miss the lots inside', () => {
    const page = `2026-05-04\n<<<<<<< ours\nreceive A 20.00 g\n=======\nreceive A 20.10 g\n>>>>>>> theirs\ncast C1\n  in A\n  out B 19.98 g bar`;
    expect(said(pageWorkspace(page))).toEqual(['merge-marker at "<<<<<<< ours"']);
  });

  it('leave out an entry that they cut through', () => {
    const page = `${SCRAP}cast C1\n<<<<<<< ours\n  in A 20.00 g\n=======\n  in A 20.10 g\n>>>>>>> theirs\n  out B 19.98 g bar`;
    expect(said(pageWorkspace(page))).toEqual(['merge-marker at "<<<<<<< ours"']);
  });
});

describe('a lot divided cold', () => {
  it('can lose nothing, and the finding says so', () => {
    // 20.00 − 11.20 − 8.75 = 0.05
    const workspace = pageWorkspace(`${SCRAP}split Y1\n  in A 20.00 g\n  out Y1a 11.20 g, out Y1b 8.75 g`);
    expect(findingsOf(workspace, 'page.melt').map(({ says }) => says)).toEqual([
      '0.05 g is missing in split Y1, where nothing can be lost.',
    ]);
  });
});

describe('a name that stands several times', () => {
  const twice =
    '2026-05-04\nreceive A 20.00 g\nassay A by xrf\n  Au 91.6 %\nassay A by density\n  Au 91 %\n2026-05-05\n';
  const says = (page: string): string[] =>
    findingsOf(pageWorkspace(page), 'page.melt').flatMap((one) => (one.code === 'correction-amiss' ? one.says : []));
  const takenBack = (page: string): string[] => {
    const { pages, book } = pageWorkspace(page);
    const firsts = pages.get('page.melt')!.entries.filter(({ prefix }) => prefix === undefined);
    return firsts
      .filter((one) => book.account(one).parts.length === 0)
      .map(({ method, date }) => method?.name ?? date!);
  };

  it('is asked about, with what tells the two apart', () => {
    const page = `${twice}void assay A, because wrong lot`;
    expect(says(page)).toEqual([
      'Two entries are `assay A`, and nothing is taken back: say which is meant, `by xrf` or `by density`.',
    ]);
    expect(takenBack(page)).toEqual([]);
    const { related, fixes } = findingsOf(pageWorkspace(page), 'page.melt').find(
      ({ code }) => code === 'correction-amiss',
    )!;
    expect(related?.map(({ place }) => (place.anchor as Section).text.split('\n')[0])).toEqual([
      'assay A by xrf',
      'assay A by density',
    ]);
    expect(fixes?.map(({ title }) => title)).toEqual([
      'Write by xrf behind the name',
      'Write by density behind the name',
    ]);
    const days = `2026-05-03\nassay A by xrf\n  Au 90 %\n${twice}`;
    expect(says(`${days}void assay A by xrf, because wrong lot`)).toEqual([
      'Two entries are `assay A`, and nothing is taken back: say which is meant, `of 2026-05-03` or `of 2026-05-04`.',
    ]);
    expect(says(`${days}correct assay A, because misread\n  Au 80 % was 70 %`)).toEqual([
      '3 entries are `assay A`, and nothing is corrected: say which is meant, `of 2026-05-03` or `of 2026-05-04 by xrf` or `of 2026-05-04 by density`.',
    ]);
  });

  it('is told apart by the method, the day, a reading, and the old value', () => {
    expect(takenBack(`${twice}void assay A by density, because wrong lot`)).toEqual(['density']);
    expect(takenBack(`${twice}void assay A, because wrong lot\n  Au 91.6 %`)).toEqual(['xrf']);
    expect(takenBack(`${twice}void assay A by xrf of 2026-05-04, because wrong lot`)).toEqual(['xrf']);
    const mended = `${twice}correct assay A, because misread\n  Au 91.7 % was 91.6 %\ncorrect assay A, because misread again\n  Au 91.8 % was 91.7 %`;
    expect(says(mended)).toEqual([]);
    expect(says(`${twice}correct assay A by fire was xrf, because misnamed`)).toEqual([]);
    // What was taken back is not meant again.
    expect(says(`${twice}void assay A by xrf, because wrong lot\nvoid assay A, because wrong lot`)).toEqual([]);
  });

  it('is clear enough where an entry stands twice word for word', () => {
    expect(
      takenBack('2026-05-04\nreceive A 20.00 g\nreceive A 20.00 g\nvoid receive A, because written twice'),
    ).toHaveLength(1);
  });
});
