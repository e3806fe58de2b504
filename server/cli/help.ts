/** What `fineweight help` prints. */
import { KINDS } from '../documents/kinds';

export const HELP = `Fineweight: melt notebooks that check themselves.

  fineweight check [PATH…]   checks pages, or all pages below folders; without PATH, this folder
      --fail-on error|warning|hint   least finding that makes the exit code 1 (warning)
      --format text|json|sarif|junit|github   how findings are printed (text)
      --since REV                    only what changed since a commit: quick
      --staged                       only what goes into the next commit, as it is staged: for a hook
      --stdin-filename NAME          checks standard input as the page NAME of its journal
  fineweight show FILE       prints a page with its computed figures at the ends of lines, then its findings
      --stdin-filename NAME          shows standard input as the page NAME of its journal, instead of FILE
  fineweight format [PATH…]  what putting pages in form would change, as a patch: \`fineweight format | git apply\`
      --check                        names the pages that are not in form; exit code 1 where there are any
      --point-at N                   decimal points below each other, at this column
  fineweight unfinished [PATH…]   lists what must still be weighed or written, and what it would close, the oldest first
      --format text|json             how it is printed (text)
  fineweight stock [PATH…]   lists what is on hand, with its fine metal and how surely that is known
      --at DATE                      at the end of a day, not of the record
      --owner PARTY                  of one owner
      --format text|json|csv         how it is printed (text)
  fineweight account [PATH…]  the account of gold and silver: what came in, what left, what is on hand, what is left over
      --from DATE, --to DATE         of a period, not of the whole record
      --metal SYMBOL                 of one metal
      --format text|json|csv         how it is printed (text)
  fineweight trace LOT [PATH…]  tells what a lot was made of and where it went, with the fine metal of each step
      --format text|json|csv         how it is printed (text)
  fineweight reconcile [PATH…]  holds every weight and assay against all others that hang together with it
      --lot LOT                      the history of one lot
      --format text|json|csv         how it is printed (text)
  fineweight history [PATH…]  looks back: losses and recoveries, control limits, usual losses, recipes, assays, crucibles
      --by kind|recipe|crucible|furnace|hand|material|month   how steps are put together (kind)
      --part losses|recovery|limits|taught|recipes|assays|running|crucibles   one part of it
      --from DATE, --to DATE         of a period, not of the whole record
      --metal SYMBOL                 of one metal
      --cusum-slack N, --cusum-limit N, --ewma-weight N   over what \`limits\` in the workshop file says
      --format text|json|csv         how it is printed (text)
  fineweight picture KIND [PATH…]  draws one picture as SVG. KIND is
                                     flow         the way of a metal through steps, its losses visible (--lot, --metal)
                                     unaccounted  a metal unaccounted for: single steps, ranges, running sums (--metal)
                                     recovery     of a metal by recipe, crucible, month, … with intervals (--metal, --by)
                                     loss         of weight, the same (--by)
                                     stock        what was on hand over the days (--metal)
                                     assays       ours against another's, with the line of equality (--metal, --party)
                                     heat         one heat by its clock (--step M57)
      --from DATE, --to DATE         of a period, not of the whole record
      --out FILE                     into a new file; over one that is there with --overwrite
  fineweight export DIR [PATH…]  writes the record as tidy tables, CSV and NDJSON with their schema, into a new folder
      --shop NAME                    in the column shop, instead of the shop's own name
  fineweight settle NAME [PATH…]  holds a settlement against the journal line by line: weights, assays, shares, price, charges, sum
      --format text|json|csv         how it is printed (text)
  fineweight routes LOT [PATH…]  tells what a lot would bring as it is and after more work, by the terms and prices on file, and how surely
      --format text|json|csv         how it is printed (text)
  fineweight plan [PATH…]    works out every plan that is still to be done: what to add, what to take, what to expect, what can hurt
      --format text|json             how it is printed (text)
  fineweight ask TEXT…       the same of a plan that stands in no page, in the journal's own words: "receive B 61 g; cupel, in B", or in few: "cupel 61 g button with 8 % Cu"
      --journal PATH                 with the lots and the workshop file of this journal
      --format text|json             how it is printed (text)
  fineweight report KIND [PATH…]  makes a document from the notes. KIND is
${KINDS.map(({ code, means }) => `      ${code}: ${means}\n`).join('')}      --entry NAME, --lot LOT        what it is about
      --from DATE, --to DATE         of a period, not of the whole record; or --month YYYY-MM
      --day DATE                     of one day
      --party PARTY, --owner PARTY, --metal SYMBOL   of one alone, where the kind has it
      --format md|html|csv|json      its form (md, or as --out ends)
      --out FILE                     into a new file; --overwrite for one that is there
      --all-months DIR               one for each month of the record, into a folder
      --revision NAME                named at the foot, instead of what version control has checked out
  fineweight seal DATE [PATH]  closes the record up to a day, on a new page of its own: seal-DATE.melt
      --print                        prints the page instead
      --canonical                    prints the text whose SHA-256 the seal is
      --with-errors                  seals what has findings that are errors
      --because REASON               openly instead of seals that git knows and that were taken out: two hands sealed apart
  fineweight record [PATH…]  tells how the record stands: its seals, what was corrected, gaps in numbering, what was written late
      --days N                       late is more than so many days after its day, as git shows it (7)
  fineweight diff REV [REV]  tells what changed between a commit and another, or the pages as they are: entries, balances, lots,
                             stock with its fine metal, findings, values of the workshop file; not spacing
      --journal PATH                 of this journal (this folder)
      --format text|json             how it is printed (text)
  fineweight merge BASE OURS THEIRS [NAME]  for git: joins two versions of a page by day and entry, or of a workshop file by
                             thing, into OURS
      --print                        prints the page instead
  fineweight textconv FILE   for git: a page without its spacing, with its figures
  fineweight attributes [FOLDER]  writes a .gitattributes for a journal, or says what yours lacks, and what to tell git
  fineweight serve --stdio   the language server for an editor, on standard input and output
  fineweight explain [CODE]  prints what a finding means, with a wrong and a right example; without CODE, all codes
  fineweight help            this text
  fineweight version         which version this is, as --version

A journal is the folder of a workshop.yaml with every .melt page below it. No page is ever changed: what writes makes a new file.
Exit code: 0 done, 2 could not run. 1 is left to what judges: findings of \`check\`, pages not in form, a broken or refused seal, lines to add, a merge
or a question that is left open. \`show\` and every list print what they find and end with 0.
`;
