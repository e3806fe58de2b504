/** The side views, for an editor that asks for them. */
import type { Location } from 'vscode-languageserver';
import { type Branch, dayView, familyView, onHandView, placesView } from '../features/views';
import type { Workspace } from '../workspace/workspace';
import { positionIn, textIn } from './checks';
import { toRange } from './convert';
import { sheetOf } from './publish';
import { askedOf } from './requests';
import type { Server } from './server';
import { fieldOf } from './settings';
import { taken } from './texts';

interface ShownBranch extends Pick<Branch, 'label' | 'detail' | 'sign'> {
  readonly location: Location | null;
  readonly children: readonly ShownBranch[];
}

/** `view` is `onHand`, `places`, `day` or `family`; the last two of a position. What is on hand, by owner or by place, in every journal that is open. */
export const view = (server: Server, params: unknown): readonly ShownBranch[] => {
  const kind = textIn(params, 'view');
  if (server.session.stopped && (kind === 'onHand' || kind === 'places')) return [notRead(server)];
  if (kind === 'onHand') return onHand(server, onHandView);
  if (kind === 'places') return onHand(server, placesView);
  const asked = fieldOf(params, 'textDocument') === undefined ? undefined : askedOf(server, params);
  if (!asked) return [];
  const offset = asked.sheet.lines.offsetAt(positionIn(params, 'position'));
  const tree = kind === 'day' ? dayView : familyView;
  return tree(asked.view.live, asked.file, offset).map((branch) => shown(server, branch));
};

/** In place of sums that would lack what is not read. */
const notRead = (server: Server): ShownBranch => ({
  label: 'Reading was stopped',
  detail: `${taken(server.session)} of ${server.session.homes.size} files are read`,
  sign: 'note',
  location: null,
  children: [],
});

type Tree = (workspace: Workspace) => readonly Branch[];

const onHand = (server: Server, tree: Tree): readonly ShownBranch[] => {
  const journals = [...server.session.journals.values()].filter(({ live }) => live.pages.size > 0);
  if (journals.length === 1) return ofJournal(server, journals[0]!.live, tree);
  return journals.map(({ root, live }) => ({
    label: live.workshop.shop.name ?? root.slice(root.lastIndexOf('/') + 1),
    detail: '',
    sign: 'note',
    location: null,
    children: ofJournal(server, live, tree),
  }));
};

const ofJournal = (server: Server, workspace: Workspace, tree: Tree): readonly ShownBranch[] =>
  tree(workspace).map((branch) => shown(server, branch));

const shown = (server: Server, { label, detail, sign, at, children }: Branch): ShownBranch => {
  const sheet = at && sheetOf(server.session, at.file);
  return {
    label,
    detail,
    sign,
    location: sheet && at ? { uri: sheet.uri, range: toRange(sheet, at) } : null,
    children: children.map((child) => shown(server, child)),
  };
};
