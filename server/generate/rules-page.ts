/** The page of all findings, and the list of the rules' files, made from the rules. */
import type { RulePage } from '../rules/rule';

/** RULES.md: every finding by its code, with why it matters and a page before and after. */
export const rulesPage = (rules: readonly RulePage[]): string => {
  const sorted = [...rules].sort((a, b) => (a.code < b.code ? -1 : 1));
  const rows = sorted.map(({ code, severity, title }) => `| [\`${code}\`](#${code}) | ${severity} | ${title} |`);
  return [INTRODUCTION, ['| finding | is a | says |', '| - | - | - |', ...rows].join('\n'), ...sorted.map(ruleSection)]
    .join('\n\n')
    .concat('\n');
};

const INTRODUCTION = `# Findings

What Fineweight can find in a journal. An *error* cannot be right as it stands, a *warning* most likely is not, a *hint* is a question.
Every example here is run by a test: the first page shows its finding, the second shows none.

A finding is silenced where it stands by a comment with its code and a reason, such as
\`# accepted weight-changed: re-weighed after pickling\`. On a line it speaks of that line, on a line of its own of the entry.`;

const ruleSection = ({ code, severity, title, why, wrong, right, source, workshop, beside }: RulePage): string =>
  [
    `## ${code}`,
    `*${severity}* · ${title}`,
    why,
    ...(workshop ? ['With this workshop file:', fence('yaml', workshop)] : []),
    ...(beside ? ['With this page beside it:', fence('melt', beside)] : []),
    'Found here:',
    fence('melt', wrong),
    'Not here:',
    fence('melt', right),
    ...(source ? [`Source: ${source}`] : []),
  ].join('\n\n');

const fence = (language: string, text: string): string => `\`\`\`${language}\n${text.trimEnd()}\n\`\`\``;
