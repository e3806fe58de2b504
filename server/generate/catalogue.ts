/** The list of all rules as a source file, made from the names of their files. */

const camel = (code: string): string =>
  code
    .split('-')
    .map((word, index) => (index === 0 ? word : `${word.slice(0, 1).toUpperCase()}${word.slice(1)}`))
    .join('');

/** `server/rules/catalogue.ts` for rules of these codes; each file exports its rule under its code in camel case. */
export const catalogueSource = (codes: Iterable<string>): string => {
  const sorted = [...codes].sort();
  const imports = [...sorted.map((code) => [code, `{ ${camel(code)} }`] as const), ['rule', 'type { Rule }'] as const]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([file, names]) => `import ${names} from './${file}';`);
  return [
    '/** Every rule, one file each, in the order of their codes. Made from the folder: `npm run generate`. */',
    ...imports,
    '',
    'export const RULES: readonly Rule[] = [',
    ...sorted.map((code) => `  ${camel(code)},`),
    '];',
    '',
  ].join('\n');
};
