/** Files that are made from the code: `npm run generate` makes them anew, and here they must not be stale. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { catalogueSource } from '../server/generate/catalogue';
import { rulesPage } from '../server/generate/rules-page';
import { referenceTables, withTables } from '../server/generate/tables';
import { grammarText, markdownGrammar, meltGrammar } from '../server/generate/textmate';
import { RULES } from '../server/rules/catalogue';

const ROOT = resolve(__dirname, '..');
const RULES_FOLDER = join(ROOT, 'server/rules');

test('the grammar of colours', async () => {
  await expect(grammarText(meltGrammar())).toMatchFileSnapshot(join(ROOT, 'client/melt.tmLanguage.json'));
});

test('the grammar of fenced blocks in Markdown', async () => {
  const file = join(ROOT, 'client/melt-in-markdown.tmLanguage.json');
  await expect(grammarText(markdownGrammar())).toMatchFileSnapshot(file);
});

test("the reference's tables", async () => {
  const file = join(ROOT, 'server/LANGUAGE.md');
  const text = withTables(readFileSync(file, 'utf8'), referenceTables());
  expect([...referenceTables().keys()].filter((name) => !text.includes(`<!-- table ${name} -->`))).toEqual([]);
  await expect(text).toMatchFileSnapshot(file);
});

test('the page of findings', async () => {
  await expect(rulesPage(RULES)).toMatchFileSnapshot(join(ROOT, 'server/RULES.md'));
});

test('the list of rules', async () => {
  const codes = readdirSync(RULES_FOLDER)
    .map((name) => name.replace(/\.ts$/, ''))
    .filter((code) => readFileSync(join(RULES_FOLDER, `${code}.ts`), 'utf8').includes(`code: '${code}'`));
  await expect(catalogueSource(codes)).toMatchFileSnapshot(join(RULES_FOLDER, 'catalogue.ts'));
});
