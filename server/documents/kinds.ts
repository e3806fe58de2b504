/** Every kind of document. A new one is a file in `kinds`, and a line here. */
import type { Workspace } from '../workspace/workspace';
import type { Choice } from './choice';
import type { Kind } from './kinds/kind';
import { lotHistory } from './kinds/lot-history';
import { meltSheet } from './kinds/melt-sheet';
import { metalAccount } from './kinds/metal-account';
import type { Document } from './model';

export const KINDS: readonly Kind[] = [meltSheet, lotHistory, metalAccount];

export const kindNamed = (code: string): Kind | undefined => KINDS.find((kind) => kind.code === code);

/** Throws Refused where it cannot be made of what was asked for. */
export const documentOf = (kind: Kind, workspace: Workspace, choice: Choice): Document => ({
  kind: kind.code,
  ...kind.make(workspace, choice),
});
