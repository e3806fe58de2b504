/** What was corrected, for reports that other programs read: the same choice as the note below the text. */
import { type Mended, mendedIn } from '../reports/corrections';
import type { Workspace } from '../workspace/workspace';
import { whereIs } from './print';

/** `says` has both readings, the reason and the hand. */
const asJson = (workspace: Workspace, { entry, by, place, says }: Mended) => ({
  of: entry.date ?? null,
  on: by.date ?? null,
  takenBack: by.prefix === 'void',
  says,
  ...whereIs(workspace, place),
});

/** What a report rests on that was corrected. */
export const correctionsJson = (workspace: Workspace, restsOn: (mended: Mended) => boolean) =>
  mendedIn(workspace)
    .filter(restsOn)
    .map((one) => asJson(workspace, one));
