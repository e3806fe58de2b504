/** What is shown while someone types, and when; without a clock. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { openDocument } from '../../server/lsp/document';
import { LOOK_AFTER_MS, PAUSE_AFTER_MS, REST_AFTER_MS, SETTLE_AFTER_MS, viewOf } from '../../server/lsp/session';
import { HINT_FAMILIES } from '../../server/lsp/settings';
import { shownHints } from '../../server/lsp/still-hints';
import { diskChanged, documentClosed, documentOpened } from '../../server/lsp/texts';
import { nextDue } from '../../server/lsp/tick';
import { settle } from '../../server/lsp/typing';
import {
  behind,
  cursorTo,
  type Desk,
  deskOf,
  FOLDER,
  PAGE,
  replace,
  rest,
  seen,
  textOf,
  type,
  wait,
} from '../support/desk';

const MAY = `2026-05-04

receive A1
  58.16 g

melt M1
  in A1 58.16 g
  out B1 57.90 g button

cupel K1
  in B1 57.90 g
  out C1 57.20 g bead
`;

const desk = (text = MAY, cursor = true): Desk => deskOf({ 'may.melt': text }, 'may.melt', { cursor });

describe('the entry being typed', () => {
  test('keeps to itself what is only not yet finished', () => {
    const at = desk();
    type(at, behind(at, 'C1 57.20 g bead'), '\n  out');
    wait(at, LOOK_AFTER_MS);
    expect(seen(at)).toEqual([]);
    wait(at, 60_000);
    expect(seen(at)).toEqual([]);
  });

  test('speaks when the cursor has left it', () => {
    const at = desk();
    type(at, behind(at, 'C1 57.20 g bead'), '\n  out 12');
    cursorTo(at, 0);
    expect(seen(at)).toEqual(['missing-unit at "12"']);
    expect(wait(at, 0)).toContain(PAGE);
  });

  test('says at once what cannot be true, but not of the token under the caret', () => {
    const at = desk();
    type(at, behind(at, 'C1 57.20 g bead'), '\n  out 1,200');
    wait(at, LOOK_AFTER_MS);
    expect(seen(at)).toEqual([]);
    type(at, behind(at, '1,200'), ' g');
    wait(at, LOOK_AFTER_MS);
    expect(seen(at)).toEqual(['thousands-mark at "1,200"']);
  });

  test('says it of the token too, once that has rested', () => {
    const at = desk();
    type(at, behind(at, 'C1 57.20 g bead'), '\n  out 1,200');
    wait(at, REST_AFTER_MS);
    expect(seen(at)).toEqual(['thousands-mark at "1,200"']);
  });

  test('does not lose what stood there and still holds', () => {
    const at = desk(MAY.replace('in B1', 'in B7'));
    expect(seen(at)).toContain('unknown-lot at "B7"');
    type(at, behind(at, 'C1 57.20 g bead'), '\n  note odd', () => expect(seen(at)).toContain('unknown-lot at "B7"'));
  });

  test('loses what stood there and holds no more', () => {
    const at = desk(MAY.replace('in B1', 'in B7'));
    const there = behind(at, 'in B7');
    at.now += 80;
    replace(at, there - 1, there, '1');
    expect(seen(at)).toEqual([]);
  });
});

describe('what stands elsewhere', () => {
  test('stays, and moves with its text', () => {
    const at = desk(MAY.replace('in B1', 'in B7'));
    type(at, behind(at, 'in A1 58.16 g'), '\n  add borax 20', () => expect(seen(at)).toContain('unknown-lot at "B7"'));
  });

  test('follows after a pause', () => {
    const at = desk();
    const there = behind(at, 'out B1');
    at.now += 80;
    replace(at, there - 1, there, '9');
    expect(seen(at)).toEqual([]);
    wait(at, PAUSE_AFTER_MS - 1);
    expect(seen(at)).toEqual([]);
    expect(wait(at, 1)).toContain(PAGE);
    expect(seen(at)).toContain('unknown-lot at "B1"');
  });

  test('follows when another entry is typed in', () => {
    const at = desk();
    const there = behind(at, 'out B1');
    at.now += 80;
    replace(at, there - 1, there, '9');
    type(at, behind(at, 'receive A1'), ' ');
    expect(seen(at)).toContain('unknown-lot at "B1"');
  });

  test('is still while a day line above it is typed anew', () => {
    const at = desk(MAY.replace('in B1', 'in B7'));
    const before = seen(at);
    at.now += 80;
    replace(at, '2026-05-0'.length, '2026-05-04'.length, '');
    wait(at, LOOK_AFTER_MS);
    expect(seen(at)).toEqual(before);
    type(at, '2026-05-0'.length, '4');
    rest(at);
    expect(seen(at)).toEqual(before);
  });

  test('is still while a new entry begins in the blank lines behind another', () => {
    const at = desk(`${MAY.replace('in B1', 'in B7')}\n\n`);
    const before = seen(at);
    expect(before).toContain('unknown-lot at "B7"');
    type(at, behind(at, 'bead\n\n'), 'mel', () => expect(seen(at)).toEqual(before));
  });
});

describe('hints', () => {
  /** `label at line` of every hint, in the order of the text. */
  const hinted = (at: Desk): string[] => {
    const text = textOf(at);
    const view = viewOf(at.session, PAGE)!;
    return shownHints(view, PAGE, { start: 0, end: text.length }, new Set(HINT_FAMILIES)).map(({ offset, label }) => {
      expect(['\n', undefined]).toContain(text[offset]);
      return `${label} at ${text.slice(text.lastIndexOf('\n', offset - 1) + 1, offset)}`;
    });
  };

  test('of other entries are still while one is typed, and follow when it is left', () => {
    const at = desk();
    const cupel = (): string[] => hinted(at).filter((hint) => /K1|B1 57|C1/.test(hint));
    const before = cupel();
    expect(before).not.toEqual([]);
    type(at, behind(at, 'out B1 57.90'), '5', () => {});
    type(at, behind(at, 'in A1 58.16 g'), '\n  add borax-glass 20 g', () => {
      expect(cupel().filter((hint) => !hint.includes('out B1'))).toEqual(
        before.filter((hint) => !hint.includes('out B1')),
      );
    });
    const there = behind(at, 'out B1 57');
    at.now += 80;
    replace(at, there - 2, there, '52');
    expect(cupel().filter((hint) => hint.includes('in B1'))).toEqual(before.filter((hint) => hint.includes('in B1')));
    cursorTo(at, 0);
    expect(cupel().filter((hint) => hint.includes('in B1'))).not.toEqual(
      before.filter((hint) => hint.includes('in B1')),
    );
  });

  test('of the entry being typed are live', () => {
    const at = desk();
    const melt = (): string | undefined => hinted(at).find((hint) => hint.endsWith('melt M1'));
    const before = melt();
    const there = behind(at, 'out B1 57');
    at.now += 80;
    replace(at, there - 2, there, '52');
    expect(melt()).toBeDefined();
    expect(melt()).not.toBe(before);
  });
});

describe('a client that does not tell its cursor', () => {
  test('sees all after a rest', () => {
    const at = desk(MAY, false);
    type(at, behind(at, 'C1 57.20 g bead'), '\n  out 12');
    wait(at, SETTLE_AFTER_MS - 1);
    expect(seen(at)).toEqual([]);
    wait(at, 1);
    expect(seen(at)).toEqual(['missing-unit at "12"']);
    expect(nextDue(at.session, at.now)).toBeUndefined();
  });
});

describe('other changes', () => {
  test('a paste over several entries is shown after a short rest', () => {
    const at = desk();
    const from = behind(at, '2026-05-04\n\n');
    at.now += 80;
    replace(at, from, textOf(at).length, 'melt M1\n  in Z9 10 g\n\nmelt M2\n  in Z8 10\n');
    wait(at, LOOK_AFTER_MS);
    expect(seen(at)).toContain('unknown-lot at "Z9"');
    expect(seen(at)).toContain('missing-unit at "10"');
  });

  test('a file changed by another program leaves the typing alone', () => {
    const at = deskOf({ 'may.melt': MAY, 'april.melt': '2026-04-01\n\nreceive Z1\n  5.00 g\n' });
    const there = behind(at, 'out B1');
    at.now += 80;
    replace(at, there - 1, there, '9');
    diskChanged(at.session, new Map([[`${FOLDER}/april.melt`, '2026-04-01\n\nmelt Z2\n  in Q1 5.00 g\n']]));
    expect(seen(at)).toEqual([]);
    expect(seen(at, `${FOLDER}/april.melt`)).toContain('unknown-lot at "Q1"');
    expect(wait(at, 0)).toEqual([`${FOLDER}/april.melt`]);
  });

  test('a page of another journal does not know the names of this one', () => {
    const at = deskOf({
      'may.melt': MAY,
      'workshop.yaml': 'shop: { name: Tarn End }\n',
      'annex/workshop.yaml': 'shop: { name: Annex }\n',
      'annex/june.melt': '2026-06-01\n\nmelt M9\n  in C1 57.20 g\n',
    });
    expect(seen(at, `${FOLDER}/annex/june.melt`)).toContain('unknown-lot at "C1"');
    diskChanged(at.session, new Map([[`${FOLDER}/annex/workshop.yaml`, undefined]]));
    expect(seen(at, `${FOLDER}/annex/june.melt`).filter((one) => one.startsWith('unknown-lot'))).toEqual([]);
  });

  test('an untitled page stands alone', () => {
    const at = desk();
    documentOpened(at.session, openDocument('untitled:One', 'untitled:One', 1, 'melt M9\n  in C1 57.20 g\n'));
    expect(seen(at, 'untitled:One')).toContain('unknown-lot at "C1"');
  });

  test('a closed buffer gives way to the disk', () => {
    const at = desk();
    replace(at, 0, textOf(at).length, 'melt M9\n  in Q1 1.00 g\n');
    documentClosed(at.session, PAGE);
    expect(seen(at)).toEqual([]);
  });
});

describe('whatever is typed', () => {
  const strokes = fc.array(
    fc.oneof(
      fc.record({
        at: fc.nat(),
        cut: fc.nat(6),
        put: fc.constantFrom('', '1', 'x', ' g', '\n', '\n  ', '\nmelt M3\n', '𝔐', '"', ',', '\n\n'),
      }),
      fc.record({ cursor: fc.nat() }),
      fc.record({ wait: fc.constantFrom(50, 300, 800, 1200) }),
    ),
    { maxLength: 40 },
  );

  test('comes to what the text alone would give', () => {
    fc.assert(
      fc.property(strokes, (list) => {
        const at = desk();
        for (const stroke of list) perform(at, stroke);
        settle(at.session);
        const fresh = desk(textOf(at));
        expect(seen(at)).toEqual(seen(fresh));
      }),
      { numRuns: 80 },
    );
  });

  test('shows nothing twice and nothing outside of the text', () => {
    fc.assert(
      fc.property(strokes, (list) => {
        const at = desk(MAY.replace('in B1', 'in B7'));
        for (const stroke of list) {
          perform(at, stroke);
          const all = seen(at).filter((one) => one === 'unknown-lot at "B7"');
          const there = textOf(at).split('B7').length - 1;
          expect(all.length).toBeLessThanOrEqual(there);
        }
      }),
      { numRuns: 50 },
    );
  });

  const perform = (
    at: Desk,
    stroke: { at: number; cut: number; put: string } | { cursor: number } | { wait: number },
  ): void => {
    const { length } = textOf(at);
    if ('wait' in stroke) wait(at, stroke.wait);
    else if ('cursor' in stroke) cursorTo(at, stroke.cursor % (length + 1));
    else {
      const start = stroke.at % (length + 1);
      at.now += 80;
      replace(at, start, Math.min(length, start + stroke.cut), stroke.put);
    }
  };
});
