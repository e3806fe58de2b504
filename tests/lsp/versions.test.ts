import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, test } from 'vitest';
import { openDocument } from '../../server/lsp/document';
import { LOOK_AFTER_MS, PAUSE_AFTER_MS, viewOf } from '../../server/lsp/session';
import { HINT_FAMILIES } from '../../server/lsp/settings';
import { shownHints } from '../../server/lsp/still-hints';
import { shownFindings } from '../../server/lsp/stillness';
import { documentOpened } from '../../server/lsp/texts';
import { tick } from '../../server/lsp/tick';
import { documentChanged } from '../../server/lsp/typing';
import type { Workspace } from '../../server/workspace/workspace';
import { idOf, sessionOf } from '../bench/edits';
import { makeJournal, WORKSHOP } from '../support/journal';
import { seeded } from '../support/random';

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

const EDITS = 24;
/** The live and the settled version, and what the last of the work still has at hand. */
const MOST_HELD = 4;

test('Edits let go of the versions before them: what is kept of an entry holds no version of the journal', async () => {
  const pages = makeJournal(600, 2);
  const session = sessionOf(pages, WORKSHOP);
  const random = seeded(7);
  const versions: WeakRef<Workspace>[] = [];
  const shown = { start: 0, end: 3000 };
  const [[name, text]] = [...pages] as [[string, string]];
  const id = idOf(name);
  documentOpened(session, openDocument(id, id, 0, text));
  const weights = [...text.matchAll(/\d(?= g)/g)].map(({ index }) => index);
  for (let edit = 1; edit <= EDITS; edit++) {
    const { lines } = session.open.get(id)!;
    const at = weights[random.whole(0, weights.length - 1)]!;
    const range = { start: lines.positionAt(at), end: lines.positionAt(at + 1) };
    const now = edit * 10_000;
    documentChanged(session, id, edit, [{ range, text: `${random.whole(0, 9)}` }], now);
    for (const pause of [LOOK_AFTER_MS, PAUSE_AFTER_MS]) {
      for (const file of tick(session, now + pause).files) shownFindings(viewOf(session, file)!, file, 'short');
      for (const { tooltip } of shownHints(viewOf(session, id)!, id, shown, new Set(HINT_FAMILIES))) tooltip();
    }
    versions.push(new WeakRef(viewOf(session, id)!.live));
    // A reference that was made or followed holds until the end of its turn.
    await new Promise((done) => setTimeout(done, 0));
  }
  collect();
  expect(versions.filter((version) => version.deref()).length).toBeLessThanOrEqual(MOST_HELD);
});
