/** Every rule's own page: its wrong example shows the rule once and nothing else, its right one is silent, its fix helps. */
import { readdirSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../server/rules/catalogue';
import { findingsOf } from '../../server/rules/findings';
import { fixed, pageWorkspace, said } from '../support/workspace';

/** What the rules share; every other file of the folder is a rule. */
const SHARED = [
  'accepted',
  'catalogue',
  'figures',
  'findings',
  'lots',
  'names',
  'rule',
  'slip-words',
  'steps',
  'suspects',
  'weighings',
];

describe('the catalogue of rules', () => {
  it('lists every rule of the folder, by the name of its file', () => {
    const files = readdirSync(resolve(__dirname, '../../server/rules')).map((file) => file.replace(/\.ts$/, ''));
    expect(RULES.map(({ code }) => code).sort()).toEqual(files.filter((file) => !SHARED.includes(file)).sort());
  });

  for (const rule of RULES) {
    describe(rule.code, () => {
      it('is found once in its wrong example, and nothing else is', () => {
        const workspace = pageWorkspace(rule.wrong, rule.workshop);
        expect(
          findingsOf(workspace, 'page.melt').map(({ code }) => code),
          said(workspace).join('\n'),
        ).toEqual([rule.code]);
      });

      it('is silent on its right example', () => {
        expect(said(pageWorkspace(rule.right, rule.workshop))).toEqual([]);
      });

      it('says a sentence and explains itself', () => {
        const [finding] = findingsOf(pageWorkspace(rule.wrong, rule.workshop), 'page.melt');
        expect(finding?.says).toMatch(/[.?]$/);
        expect(rule.why).toMatch(/\.$/);
        expect(rule.title.length).toBeGreaterThan(5);
      });

      it('is gone after its preferred fix, where it has one', () => {
        const workspace = pageWorkspace(rule.wrong, rule.workshop);
        const [finding] = findingsOf(workspace, 'page.melt');
        if (!finding?.fixes?.some(({ preferred }) => preferred)) return;
        const after = pageWorkspace(fixed(workspace, finding), rule.workshop);
        expect(findingsOf(after, 'page.melt').filter(({ code }) => code === rule.code)).toEqual([]);
      });
    });
  }
});
