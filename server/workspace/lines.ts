/** Where the lines of a journal's files begin, worked out once for each text. */
import { Lines } from '../text/lines';
import type { Workspace } from './workspace';

const kept = new WeakMap<Workspace, Map<string, Lines>>();

export const linesOf = (workspace: Workspace, file: string): Lines => {
  const files = kept.get(workspace) ?? new Map<string, Lines>();
  kept.set(workspace, files);
  const known = files.get(file);
  if (known) return known;
  const { workshopFile, pages } = workspace;
  const text = pages.get(file)?.page.text ?? (workshopFile?.file === file ? workshopFile.text : '');
  const made = new Lines(text);
  files.set(file, made);
  return made;
};
