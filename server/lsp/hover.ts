/** What stands under the pointer. */
import type { Hover } from 'vscode-languageserver';
import { hoverAt } from '../features/hover';
import { positionIn } from './checks';
import { toHover } from './convert';
import { askedOf } from './requests';
import type { Server } from './server';

export const hover = (server: Server, params: unknown): Hover | null => {
  const position = positionIn(params, 'position');
  const asked = askedOf(server, params);
  if (!asked) return null;
  const found = hoverAt(asked.view.live, asked.file, asked.sheet.lines.offsetAt(position));
  return found ? toHover(found, asked.sheet, server.client.markdownHover) : null;
};
