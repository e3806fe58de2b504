/** In the built program what only the pages of rules say stands apart from the rules: nothing else of a rule is gone, and `explain` shows it as it is. */
import { execFileSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { explain } from '../../server/cli/explain';
import { RULES } from '../../server/rules/catalogue';

const DIST = resolve(__dirname, '../../server/dist');

interface Core {
  /** By names of the build's own making. */
  readonly modules: Readonly<Record<string, { readonly RULES?: readonly object[] }>>;
}

/** All that a rule says and does but what its page says; of what it does, that it is there. */
const rest = (rule: object): unknown =>
  Object.entries(rule)
    .filter(([name]) => !['title', 'why', 'source', 'wrong', 'right', 'beside', 'workshop'].includes(name))
    .map(([name, value]) => [name, typeof value === 'function' ? 'does' : value]);

test('a rule in the core is the same rule, without what its page says', () => {
  const core = createRequire(DIST)(resolve(DIST, 'core.js')) as Core;
  const built = Object.values(core.modules).find((one) => one.RULES)!.RULES!;
  expect(built.map(rest)).toEqual(RULES.map(rest));
  for (const rule of built) expect(rule).not.toHaveProperty('why');
});

test.each(['missing-unit', 'lead-short', 'settled-terms', 'seal-broken', 'order-by-page'])(
  '%s is explained',
  (code) => {
    const built = execFileSync(process.execPath, [resolve(DIST, 'cli.js'), 'explain', code], { encoding: 'utf8' });
    expect(built).toBe(explain(code, (_, text) => text));
  },
);
