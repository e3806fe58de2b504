/** Findings for the places where a record is kept: SARIF 2.1.0 for code scanning, JUnit for test reports, workflow commands for GitHub. */
import { FINDING_PAGES } from '../features/rule-pages';
import type { Severity } from '../rules/rule';
import { visible } from '../text/visible';
import type { JsonRange, JsonReport } from './report';

const LEVELS: Readonly<Record<Severity, 'error' | 'warning' | 'note'>> = {
  error: 'error',
  warning: 'warning',
  hint: 'note',
};

/** An address within the repository, as a URI: from here where the file is below. */
const uriOf = (file: string): string => (file.startsWith('/') ? `file://${encodeURI(file)}` : encodeURI(file));

const sarifLocation = ({ file, line, column, endLine, endColumn }: JsonRange) => ({
  physicalLocation: {
    artifactLocation: { uri: uriOf(file) },
    region: { startLine: line, startColumn: column, endLine, endColumn },
  },
});

/** SARIF 2.1.0 (OASIS Standard, 27 March 2020). */
export const asSarif = (report: JsonReport): string => {
  const used = new Set(report.findings.map(({ code }) => code));
  const rules = FINDING_PAGES.filter(({ code }) => used.has(code));
  const index = new Map(rules.map(({ code }, at) => [code, at]));
  const log = {
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: 'Fineweight',
            rules: rules.map(({ code, title, why, severity }) => ({
              id: code,
              shortDescription: { text: title },
              fullDescription: { text: why },
              help: { text: why },
              defaultConfiguration: { level: LEVELS[severity] },
            })),
          },
        },
        columnKind: 'utf16CodeUnits',
        invocations: [
          {
            executionSuccessful: report.failures.length === 0,
            ...(report.failures.length > 0
              ? { toolExecutionNotifications: report.failures.map((text) => ({ level: 'error', message: { text } })) }
              : {}),
          },
        ],
        results: report.findings.map((finding) => ({
          ruleId: finding.code,
          ...(index.has(finding.code) ? { ruleIndex: index.get(finding.code) } : {}),
          level: LEVELS[finding.severity],
          message: { text: visible(finding.says) },
          locations: [sarifLocation(finding)],
          ...(finding.related.length > 0
            ? {
                relatedLocations: finding.related.map((one, id) => ({
                  id,
                  message: { text: visible(one.says) },
                  ...sarifLocation(one),
                })),
              }
            : {}),
        })),
      },
    ],
  };
  return `${JSON.stringify(log, null, 2)}\n`;
};

/** Characters that XML 1.0 has no place for are shown, as everywhere. */
const xml = (text: string): string =>
  visible(text)
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    // biome-ignore lint/suspicious/noControlCharactersInRegex: what XML forbids.
    .replace(/[\u0000-\u001f\ufffe\uffff]/g, '\ufffd');

/** A page is a suite, a finding a case that failed; a page without any is one case that passed. */
export const asJunit = (report: JsonReport): string => {
  const suites = report.files.map((file) => {
    const own = report.findings.filter((finding) => finding.file === file);
    const cases = own.map(
      ({ code, line, column, severity, says }) =>
        `    <testcase name="${xml(`${line}:${column} ${code}`)}" classname="${xml(file)}">\n` +
        `      <failure type="${severity}" message="${xml(says)}">${xml(`${file}:${line}:${column}: ${severity}: ${says} [${code}]`)}</failure>\n` +
        `    </testcase>\n`,
    );
    const clean = `    <testcase name="nothing found" classname="${xml(file)}"/>\n`;
    const body = cases.length > 0 ? cases.join('') : clean;
    return `  <testsuite name="${xml(file)}" tests="${Math.max(1, own.length)}" failures="${own.length}" errors="0">\n${body}  </testsuite>\n`;
  });
  const unread = report.failures.map(
    (says, at) =>
      `  <testsuite name="not read ${at + 1}" tests="1" failures="0" errors="1">\n    <testcase name="read"><error message="${xml(says)}"/></testcase>\n  </testsuite>\n`,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="fineweight">\n${suites.join('')}${unread.join('')}</testsuites>\n`;
};

const LEVEL_COMMANDS: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', hint: 'notice' };

const escapeData = (text: string): string =>
  text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
const escapeProperty = (text: string): string => escapeData(text).replaceAll(':', '%3A').replaceAll(',', '%2C');

/** Workflow commands: each finding is shown beside its line. */
export const asGithub = (report: JsonReport): string => {
  const lines = report.findings.map(({ severity, file, line, column, endLine, endColumn, code, says }) => {
    const place = {
      file,
      line: `${line}`,
      endLine: `${endLine}`,
      ...(line === endLine ? { col: `${column}`, endColumn: `${endColumn}` } : {}),
    };
    const properties = Object.entries({ ...place, title: code }).map(
      ([key, value]) => `${key}=${escapeProperty(visible(value))}`,
    );
    return `::${LEVEL_COMMANDS[severity]} ${properties.join(',')}::${escapeData(visible(says))}\n`;
  });
  const failures = report.failures.map((says) => `::error::${escapeData(visible(says))}\n`);
  return [...lines, ...failures].join('');
};
