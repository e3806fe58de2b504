#!/usr/bin/env node
/** The command line. Reads pages and prints what it finds; it writes nothing but the new files that are asked for by name. */
import { version } from '../../package.json';
import { isPage } from '../files/names';
import { decodeUtf8 } from '../files/utf8';
import { visible } from '../text/visible';
import { accountsOf } from '../workspace/accounts';
import { emptyWorkspace, withTexts } from '../workspace/update';
import { account } from './account';
import { type Command, readArgs } from './args';
import { askedOf } from './asked';
import { attributes } from './attributes';
import { check, type Outcome } from './check';
import { diff } from './diff';
import { report } from './document';
import { explain } from './explain';
import { exportTables } from './export';
import { format } from './format';
import { HELP } from './help';
import { history } from './history';
import { type GivenPage, type Opened, openJournals } from './journals';
import { merge } from './merge';
import { UsageError } from './options';
import { type Paint, paintFor } from './paint';
import { picture } from './picture';
import { ASKED_PAGE, ask, plan } from './plan';
import { withFiles } from './proofs';
import { reconcile } from './reconcile';
import { record } from './record';
import { withReplaced } from './replaced';
import { routes } from './routes';
import { seal } from './seal';
import { withSealedTexts } from './sealed-history';
import { withSealsGone } from './seals-gone';
import { serve } from './serve';
import { settle } from './settle';
import { show } from './show';
import { openSince, openStaged } from './since';
import { stock } from './stock';
import { textconv } from './textconv';
import { trace } from './trace';
import { unfinished } from './unfinished';

const run = async (args: readonly string[], paint: Paint): Promise<Outcome> => {
  const command = readArgs(args);
  switch (command.command) {
    case 'help':
      return { text: HELP, exit: 0 };
    case 'version':
      return { text: `fineweight ${version}\n`, exit: 0 };
    case 'serve':
      return serve();
    case 'explain':
      return { text: explain(command.code, paint), exit: 0 };
    case 'check':
      return runCheck(command, paint);
    case 'show':
      return runShow(command, paint);
    case 'format':
      return format(opened(command.paths), command);
    case 'unfinished':
      return unfinished(opened(command.paths), command.format, paint);
    case 'stock':
      return stock(opened(command.paths), { ...command, paint });
    case 'account':
      return account(opened(command.paths), { ...command, paint });
    case 'trace':
      return trace(opened(command.paths), { ...command, paint });
    case 'history':
      return history(opened(command.paths), { ...command, paint });
    case 'picture':
      return picture(opened(command.paths), command);
    case 'export':
      return exportTables(withFiles(opened(command.paths)), command, tellProgress);
    case 'routes':
      return routes(opened(command.paths), { ...command, paint });
    case 'settle':
      return settle(opened(command.paths), { ...command, paint });
    case 'plan':
      return plan(opened(command.paths), { ...command, paint });
    case 'ask':
      return runAsk(command, paint);
    case 'report':
      return report(opened(command.paths), command, tellProgress);
    case 'seal':
      return seal(opened([command.path]), { ...command, paint });
    case 'record':
      return record(opened(command.paths), { ...command, paint });
    case 'diff':
      return diff(opened([command.path]), { ...command, paint });
    case 'merge':
      return merge(command);
    case 'attributes':
      return attributes(command.folder);
    case 'textconv':
      return textconv(command.path);
    case 'reconcile':
      return reconcile(opened(command.paths), { ...command, paint });
  }
};

const runCheck = async (command: Extract<Command, { command: 'check' }>, paint: Paint): Promise<Outcome> => {
  const opened = await openChecked(command);
  tell(opened);
  return check(opened, { ...command, paint });
};

const openChecked = async ({
  paths,
  since,
  staged,
  stdinName,
}: Extract<Command, { command: 'check' }>): Promise<Opened> => {
  const [path = '.'] = paths;
  if (staged) return openStaged(path);
  if (since !== undefined) return openSince(path, since);
  const journals = withFiles(openJournals(stdinName === undefined ? paths : [], await givenPage(stdinName)));
  return withReplaced(withSealsGone(withSealedTexts(journals)));
};

const runShow = async (command: Extract<Command, { command: 'show' }>, paint: Paint): Promise<Outcome> => {
  const { path, stdinName } = command;
  if (!isPage(path)) throw new UsageError(`${visible(path)} is no .melt page; \`fineweight show\` takes one.`);
  const opened = openJournals(stdinName === undefined ? [path] : [], await givenPage(stdinName));
  tell(opened);
  const [journal] = opened.journals;
  const [file] = journal?.asked ?? [];
  if (!journal || file === undefined) return { text: '', exit: 2 };
  if (journal.asked.length > 1)
    throw new UsageError(`${visible(path)} is a folder; \`fineweight show\` takes one page.`);
  return { text: show(journal.workspace, file, paint), exit: opened.failures.length > 0 ? 2 : 0 };
};

/** Without a journal the question stands alone. It is put on the journal's last day, behind all that was done. */
const runAsk = (command: Extract<Command, { command: 'ask' }>, paint: Paint): Outcome => {
  const [journal] = command.path === undefined ? [] : opened([command.path]).journals;
  if (command.path !== undefined && !journal) return { text: '', exit: 2 };
  const before = journal?.workspace ?? emptyWorkspace('.');
  const day = accountsOf(before).lastDate || '2000-01-01';
  const { text, meant } = askedOf(
    command.text,
    day,
    before.workshop,
    (name) => (before.book.lot(name)?.births.length ?? 0) > 0,
  );
  return ask(withTexts(before, new Map([[ASKED_PAGE, text]])), ASKED_PAGE, meant, { ...command, paint });
};

const opened = (paths: readonly string[]): Opened => {
  const journals = openJournals(paths);
  tell(journals);
  return journals;
};

/** On one line of a terminal; of a file or a pipe only the last word. */
const tellProgress = (line: string, isLast: boolean): void => {
  if (process.stderr.isTTY) process.stderr.write(`\r${line}${isLast ? '\n' : ''}`);
  else if (isLast) process.stderr.write(`${line}\n`);
};

/** What could not be read and what is worth knowing, apart from the findings. */
const tell = ({ failures, notes }: Opened): void => {
  for (const sentence of [...notes, ...failures]) process.stderr.write(`fineweight: ${sentence}\n`);
};

const givenPage = async (path: string | undefined): Promise<GivenPage | undefined> => {
  if (path === undefined) return undefined;
  const chunks: Uint8Array[] = [];
  for await (const chunk of process.stdin) chunks.push(chunk as Uint8Array);
  const decoded = decodeUtf8(Buffer.concat(chunks));
  if (decoded.ok) return { path, text: decoded.text };
  const where = 'line' in decoded ? ` at line ${decoded.line}, column ${decoded.column}` : '';
  throw new UsageError(`Standard input is not UTF-8${where}.`);
};

const main = async (): Promise<void> => {
  // Whoever reads only the first lines (`| head`) has had enough: that is no failure.
  process.stdout.on('error', () => process.exit());
  try {
    const outcome = await run(process.argv.slice(2), paintFor(process.stdout, process.env));
    process.stdout.write(outcome.text);
    process.exitCode = outcome.exit;
  } catch (error) {
    const says = error instanceof UsageError ? error.message : `It went wrong inside: ${String(error)}`;
    process.stderr.write(`fineweight: ${visible(says)}\n`);
    process.exitCode = 2;
  }
};

main();
