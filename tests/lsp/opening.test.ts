/** A journal opened in slices: what is said of the open page early is what is said of it at last, and at last all is as if it had been opened whole. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { openDocument } from '../../server/lsp/document';
import { createSession, isSure, journalOf, type Session, viewOf } from '../../server/lsp/session';
import { shownFindings } from '../../server/lsp/stillness';
import { documentOpened, foldersChanged, openSome, textsFound } from '../../server/lsp/texts';
import { isHeld, tick } from '../../server/lsp/tick';
import { documentChanged } from '../../server/lsp/typing';
import { REST_ON_WHOLE_RECORD } from '../../server/rules/whole-record';
import { emptyWorkspace, withTexts } from '../../server/workspace/update';
import type { Workspace } from '../../server/workspace/workspace';
import { makeJournal, WORKSHOP } from '../support/journal';
import { everything } from '../support/workspace';

const FOLDER = 'file:///shop';
const SAMPLES = resolve(__dirname, '../../samples');

type Texts = ReadonlyMap<string, string>;

const sample = (folder: string): Texts =>
  new Map(
    readdirSync(join(SAMPLES, folder))
      .filter((name) => name.endsWith('.melt') || name === 'workshop.yaml')
      .map((name) => [`${FOLDER}/${name}`, readFileSync(join(SAMPLES, folder, name), 'utf8')]),
  );

/** Every fifth weight with two of its digits changed about. */
const slipped = (texts: Texts): Texts => {
  let count = 0;
  const slip = (weight: string, first: string, second: string, rest: string): string =>
    ++count % 5 === 0 ? second + first + rest : weight;
  return new Map([...texts].map(([id, text]) => [id, text.replace(/(\d)(\d)(\.\d\d g)/g, slip)]));
};

/** With a slip, a stranger, and a lot of an earlier page on every page. */
const made = (): Texts => {
  const texts = new Map([[`${FOLDER}/workshop.yaml`, WORKSHOP]]);
  let earlier = 'R2x';
  for (const [name, text] of makeJournal(1600, 8)) {
    const [lot, other] = [...text.matchAll(/receive (R\d+) /g)].map((match) => match[1]!);
    const slips = `${text}\n2030-01-01\n\ncast Q${lot}\n  in ${earlier}\n  in ${lot}y 90.01 g\n  in ${lot}q 4 g\n  add ${lot}x 2 g\n  out ${lot}z\n`;
    texts.set(`${FOLDER}/${name}`, slips);
    earlier = `${other}y`;
  }
  return texts;
};

const begin = (texts: Texts, open: readonly string[]): Session => {
  const session = createSession(true);
  foldersChanged(session, [FOLDER]);
  for (const id of open) documentOpened(session, openDocument(id, id, 1, texts.get(id)!));
  textsFound(session, texts);
  return session;
};

const step = (session: Session): boolean => openSome(session, () => false);

const shown = (session: Session, file: string): string[] =>
  shownFindings(viewOf(session, file)!, file).map(
    ({ finding, range, related }) =>
      `${range.start}-${range.end} ${finding.code} ${finding.says} ${JSON.stringify(related)} ${(finding.fixes ?? []).map(({ title }) => title)}`,
  );

const isTold = (line: string): boolean => !REST_ON_WHOLE_RECORD.has(line.split(' ')[1]!);

const live = (session: Session): Workspace => [...session.journals.values()][0]!.live;

const whole = (texts: Texts): Workspace => withTexts(emptyWorkspace(FOLDER), texts);

/** Opens with one page on the screen; gives what was said of it early, and at last. */
const opened = (texts: Texts, file: string) => {
  const session = begin(texts, [file]);
  let early: string[] | undefined;
  let pages = 0;
  while (step(session)) {
    if (early || !isSure(session, file)) continue;
    early = shown(session, file);
    pages = live(session).pages.size;
  }
  return { session, early: early!, pages, last: shown(session, file) };
};

const JOURNALS: readonly (readonly [string, () => Texts])[] = [
  ['the sample journal with slips', () => slipped(sample('tarn-end'))],
  ['the page of mistakes', () => sample('mistakes')],
  ['a month of sales with slips', () => slipped(sample('selling'))],
  ['a made journal with slips', made],
];

describe.each(JOURNALS)('%s', (_, textsOf) => {
  const texts = textsOf();
  const pages = [...texts.keys()].filter((id) => id.endsWith('.melt'));

  it('says of an open page early what it says at last', () => {
    let told = 0;
    for (const file of pages) {
      const { early, last } = opened(texts, file);
      expect(early.filter(isTold)).toEqual(last.filter(isTold));
      told += early.filter(isTold).length;
    }
    expect(told).toBeGreaterThan(0);
  });

  it('ends as if it had been opened whole', () => {
    const expected = everything(whole(texts));
    expect(everything(live(opened(texts, pages.at(-1)!).session))).toEqual(expected);
    const closed = begin(texts, []);
    while (step(closed));
    expect(everything(live(closed))).toEqual(expected);
  });

  it('holds every other file back until then', () => {
    const file = pages[0]!;
    const session = begin(texts, [file]);
    while (step(session) && journalOf(session, file)!.opening) {
      for (const told of tick(session, 0).files) expect([file, `${FOLDER}/workshop.yaml`]).toContain(told);
    }
    expect(pages.filter((id) => isHeld(session, id))).toEqual([]);
    expect(tick(session, 0).files).toEqual(expect.arrayContaining(pages.slice(1)));
  });
});

describe('a large journal', () => {
  const texts = new Map([[`${FOLDER}/workshop.yaml`, WORKSHOP]]);
  for (const [name, text] of makeJournal(6000, 24)) texts.set(`${FOLDER}/${name}`, text);
  const last = [...texts.keys()].at(-1)!;

  it('needs few pages for the open one', () => {
    expect(opened(texts, last).pages).toBeLessThan(4);
    const slips = made();
    expect(opened(slips, [...slips.keys()][4]!).pages).toBeLessThan(5);
  });

  it('takes what is typed meanwhile', () => {
    const session = begin(texts, [last]);
    const typed = '\n2030-01-01\n\ncast Q1\n  in R2x\n  out Q1b\n';
    while (!isSure(session, last)) step(session);
    const end = session.open.get(last)!.lines.positionAt(texts.get(last)!.length);
    documentChanged(session, last, 2, [{ range: { start: end, end }, text: typed }], 0);
    expect(isSure(session, last)).toBe(false);
    while (journalOf(session, last)?.opening && !isSure(session, last)) step(session);
    const page = live(session).pages.get(last)!;
    expect(live(session).book.step(page.entries.at(-1)!)?.inputs[0]?.mass?.value.toNumber()).toBeGreaterThan(0);
    while (step(session));
    expect(everything(live(session))).toEqual(everything(whole(new Map([...texts, [last, texts.get(last)! + typed]]))));
    // What others are shown is a version of its own; each page was read once for both.
    const { settled } = [...session.journals.values()][0]!;
    const [mine, theirs] = [live(session).pages, settled.pages];
    expect([...theirs.keys()].filter((id) => theirs.get(id) !== mine.get(id))).toEqual([last]);
  });

  it('takes what is opened meanwhile first', () => {
    const session = begin(texts, [last]);
    while (!isSure(session, last)) step(session);
    const other = [...texts.keys()][12]!;
    documentOpened(session, openDocument(other, other, 1, texts.get(other)!));
    while (!isSure(session, other)) step(session);
    expect(live(session).pages.size).toBeLessThan(8);
  });
});
