/** How a document looks: dark letters on white paper, or light ones on a dark screen; on paper always the first. */

const LIGHT = '--paper:#fff;--ink:#1d1b18;--dim:#5a554d;--rule:#cfc9bf;--shade:#f5f2ec;--link:#6b4300;';
const DARK = '--paper:#181715;--ink:#e9e5dd;--dim:#b5aea2;--rule:#45413a;--shade:#23211e;--link:#e6bb6a;';
const EDITOR =
  '--paper:var(--vscode-editor-background);--ink:var(--vscode-editor-foreground);--dim:var(--vscode-descriptionForeground);--rule:var(--vscode-editorWidget-border,#8886);--shade:var(--vscode-editorWidget-background);--link:var(--vscode-textLink-foreground);';

const SHEET = `
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:15px/1.45 system-ui,-apple-system,"Segoe UI","Noto Sans",sans-serif;font-variant-numeric:tabular-nums}
body{max-width:72rem;margin:0 auto;padding:1.5rem 1.25rem 2.5rem;background:var(--paper);color:var(--ink)}
header p,footer,td.line,dd a.line,li a.line{color:var(--dim)}
header p{margin:0}
h1{font-size:1.55rem;line-height:1.2;margin:.15rem 0 1rem}
h2{font-size:1.05rem;margin:1.7rem 0 .45rem;padding-bottom:.15rem;border-bottom:1px solid var(--rule)}
a{color:var(--link);text-decoration-thickness:1px;text-underline-offset:2px}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.12rem 1.1rem;margin:0}
dt{color:var(--dim)}
dd{margin:0}
a.line,span.line{font-size:.82em;white-space:nowrap}
ul{margin:.3rem 0;padding-left:1.15rem}
li{margin:.12rem 0;white-space:pre-line}
code{font:.9em/1 ui-monospace,"Noto Sans Mono",monospace;background:var(--shade);padding:.05em .25em;border-radius:.2em}
.wide{overflow-x:auto;background:linear-gradient(to left,var(--paper) 40%,transparent) right/2rem 100% no-repeat local,linear-gradient(to left,var(--rule),transparent) right/.6rem 100% no-repeat}
table{border-collapse:collapse;margin:.25rem 0 .5rem;font-size:.93em}
th,td{padding:.16rem .8rem .16rem 0;text-align:left;vertical-align:baseline;font-weight:400;white-space:nowrap}
.long{white-space:normal;min-width:12rem}
th.long{min-width:8rem}
.told{min-width:20rem}
tbody th,thead th:first-child{position:sticky;left:0;background:var(--paper)}
thead .broken{white-space:normal;min-width:5.5rem}
thead th{color:var(--dim);font-size:.85em;border-bottom:1px solid var(--rule);vertical-align:bottom}
tbody tr+tr>*{border-top:1px solid var(--shade)}
.right{text-align:right}
.total>*{font-weight:600;border-top:1px solid var(--rule)!important}
small{color:var(--dim);font-size:.82em;font-weight:400}
figure{margin:.5rem 0;overflow-x:auto}
svg{max-width:100%;height:auto}
@media (max-width:40rem){body{padding:1rem .8rem 2rem}th,td{padding-right:.6rem}figure svg{min-width:36rem}}
footer{margin-top:2rem;padding-top:.5rem;border-top:1px solid var(--rule);font-size:.82em;overflow-wrap:anywhere}
footer p{margin:.15rem 0}
@media print{
html{font-size:9.5pt}
body{max-width:none;padding:0}
.wide{overflow:visible;background:none}
tbody th,thead th:first-child{position:static}
table{font-size:.8em}
th,td{padding-right:.55rem}
a{color:inherit;text-decoration:none}
h2{break-after:avoid}
tr,li,figure{break-inside:avoid}
figure{overflow:visible}
.long,th.long,.told{min-width:6rem}
svg{max-height:125mm}
tbody tr:nth-child(-n+2){break-after:avoid}
tbody tr:nth-last-child(-n+2){break-before:avoid}
thead{display:table-header-group}
}
`;

/** Pictures take the colours of what is around them. */
const PICTURES =
  ':root{--fineweight-paper:var(--paper);--fineweight-ink:var(--ink);--fineweight-soft:var(--dim);--fineweight-line:var(--rule);--fineweight-band:var(--shade)}';
/** The editor's theme may be dark where the machine's is light, and the other way round. */
const EDITOR_PICTURES =
  '.vscode-light{--fineweight-gold:#b27700;--fineweight-silver:#33689c;--fineweight-other:#3f7d5f;--fineweight-loss:#b0350a}.vscode-dark,.vscode-high-contrast{--fineweight-gold:#f0b840;--fineweight-silver:#7fb4e6;--fineweight-other:#7cc4a0;--fineweight-loss:#ff8f66}';

export type Theme = 'page' | 'editor';

/** `size` for `@page`; without one the printer's own. */
export const styleFor = (theme: Theme, paper: 'A4' | 'letter' | undefined): string => {
  const screen =
    theme === 'editor'
      ? `:root{${EDITOR}}${EDITOR_PICTURES}`
      : `:root{color-scheme:light dark;${LIGHT}}@media screen and (prefers-color-scheme:dark){:root{${DARK}}}`;
  const page = `@page{${paper ? `size:${paper};` : ''}margin:16mm 14mm}`;
  return `${screen}@media print{:root{color-scheme:light;${LIGHT}}}${PICTURES}${page}${SHEET}`;
};
