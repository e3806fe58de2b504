/** A language server as a process of its own, spoken to over standard input and output; what it costs is what the system counts. */
import { type ChildProcess, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';

/** What the client of the editor starts our server with. */
export const OUR_FLAGS = ['--heap-growing-percent=20', '--max-semi-space-size=8'];

export interface ServerProcess {
  readonly connection: MessageConnection;
  readonly usage: () => Usage;
  readonly stop: () => void;
}

/** None where the system does not tell. */
export interface Usage {
  /** Processor time since its start. The system counts in steps of 10 ms. */
  readonly cpuMs: number | undefined;
  readonly residentMb: number | undefined;
}

/** `flags`: for Node, as the editor's client gives them. */
export const startServer = (script: string, flags: readonly string[] = []): ServerProcess => {
  const child: ChildProcess = spawn(process.execPath, [...flags, script, '--stdio'], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  const connection = createMessageConnection(
    new StreamMessageReader(child.stdout!),
    new StreamMessageWriter(child.stdin!),
  );
  connection.listen();
  return {
    connection,
    usage: () => usageOf(child.pid!),
    stop: () => {
      connection.dispose();
      child.kill();
    },
  };
};

const usageOf = (pid: number): Usage => {
  try {
    const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]!.split(' ');
    const resident = /VmRSS:\s*(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
    return { cpuMs: 10 * (Number(fields[11]) + Number(fields[12])), residentMb: Number(resident![1]) / 1024 };
  } catch {
    return { cpuMs: undefined, residentMb: undefined };
  }
};
