/** Findings for other programs, against the schemas that those publish. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import Ajv from 'ajv-draft-04';
import { afterAll, describe, expect, it } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { fineweight, folderOf, removeFolders } from './run';

const SCHEMAS = resolve(__dirname, '../fixtures/reports');
const MISTAKES = resolve(__dirname, '../../samples/mistakes');

afterAll(removeFolders);

const hostile = (): string =>
  folderOf({
    'a <b> & "c".melt': '2026-05-04\nreceive A 61,37 g\nreceive B 20 g\nreceive B\u0007 21 g\nnote ]]> %0A ::error::\n',
  });

const run = (args: readonly string[], cwd?: string) => fineweight(['check', ...args], cwd === undefined ? {} : { cwd });

describe('SARIF', () => {
  const schema = JSON.parse(readFileSync(join(SCHEMAS, 'sarif-2.1.0-rtm.5.json'), 'utf8')) as object;
  const validate = new Ajv({ strict: false, validateFormats: false, unicodeRegExp: false }).compile(schema);

  it('is as the published schema has it, with a result for each finding', () => {
    for (const args of [[MISTAKES], ['.'], ['no-such-folder']]) {
      const cwd = args[0] === '.' ? hostile() : undefined;
      const log = JSON.parse(run([...args, '--format', 'sarif'], cwd).out) as {
        runs: { results: { ruleId: string }[] }[];
      };
      expect(validate(log), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
      const plain = JSON.parse(run([...args, '--format', 'json'], cwd).out) as { findings: { code: string }[] };
      expect(log.runs[0]!.results.map(({ ruleId }) => ruleId)).toEqual(plain.findings.map(({ code }) => code));
    }
    expect(validate({ version: '2.1.0', runs: [{ results: [] }] })).toBe(false);
  });
});

describe('JUnit', () => {
  const schema = readFileSync(join(SCHEMAS, 'jenkins-junit.xsd'), 'utf8');
  const errorsOf = async (contents: string): Promise<readonly string[]> => {
    const { valid, errors } = await validateXML({ xml: [{ fileName: 'report.xml', contents }], schema: [schema] });
    return valid ? [] : errors.map(({ message }) => message);
  };

  it('is as the published schema has it', async () => {
    const report = run([MISTAKES, '--format', 'junit']);
    expect(report.exit).toBe(1);
    expect(await errorsOf(report.out)).toEqual([]);
    expect(await errorsOf(run(['.', '--format', 'junit'], hostile()).out)).toEqual([]);
    expect(await errorsOf(run(['no-such-folder', '--format', 'junit']).out)).toEqual([]);
    expect(await errorsOf('<testsuites><testcase/></testsuites>')).not.toEqual([]);
  });
});

describe('workflow commands', () => {
  it('put each finding beside its line, and nothing out of a page becomes one', () => {
    const folder = hostile();
    const lines = run(['.', '--format', 'github'], folder).out.trimEnd().split('\n');
    expect(lines[0]).toBe(
      '::error file=a <b> & "c".melt,line=2,endLine=2,col=11,endColumn=16,title=decimal-comma::61,37: a decimal has a point. Write 61.37.',
    );
    for (const line of lines) expect(line).toMatch(/^::(?:error|warning|notice) file=[^,:]+,line=\d+,/);
  });
});
