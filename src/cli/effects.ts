/** Everything that the command line takes from the outside world, so that `run` can be tested without one. */
import { mkdir, readFile } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import type { Problem } from '#project';
import { type Fingerprint, writeProjectFile } from '#server';

export interface Output {
  write(text: string): unknown;
  readonly isTTY?: boolean | undefined;
  readonly columns?: number | undefined;
}
export interface Effects {
  readonly stdout: Output;
  readonly stderr: Output;
  readonly stdin: { readonly isTTY?: boolean | undefined; read(): Promise<Uint8Array> };
  /** Folder that relative paths on the command line start from. */
  readonly cwd: string;
  /** Folder of the installed package: `examples/` and `package.json` are there. */
  readonly home: string;
  readFile(path: string): Promise<Uint8Array>;
  /**
   * Writes a file as a whole: an interrupted write leaves the old one. Missing folders are made.
   * @param expected what the file held when it was read: one that changed meanwhile is left alone.
   * @returns what kept the file from being written.
   */
  writeFile(path: string, content: string | Uint8Array, expected?: Fingerprint): Promise<Problem | undefined>;
}

/**
 * Lets a write end before Ctrl-C or a request to stop takes effect, so that no temporary file is left. Elsewhere the
 * signals end the program at once, as everywhere.
 */
async function undisturbed<T>(work: () => Promise<T>): Promise<T> {
  const signals = ['SIGINT', 'SIGTERM'] as const;
  let stop: NodeJS.Signals | undefined;
  const listener = (signal: NodeJS.Signals): void => {
    stop = signal;
  };
  for (const signal of signals) process.on(signal, listener);
  try {
    return await work();
  } finally {
    for (const signal of signals) process.off(signal, listener);
    if (stop !== undefined) process.kill(process.pid, stop);
  }
}

/** The real ones. `home` is the package's folder. */
export function processEffects(home: string): Effects {
  return {
    stdout: process.stdout,
    stderr: process.stderr,
    stdin: {
      isTTY: process.stdin.isTTY,
      async read() {
        const chunks: Buffer[] = [];
        for await (const chunk of process.stdin) chunks.push(chunk as Buffer);
        return Buffer.concat(chunks);
      },
    },
    cwd: process.cwd(),
    home,
    readFile: (path) => readFile(path),
    writeFile: (path, content, expected) =>
      undisturbed(async () => {
        // What keeps the folder from being made keeps the file from being written, and is told there.
        await mkdir(dirname(path), { recursive: true }).catch(() => undefined);
        const written = await writeProjectFile(dirname(path), basename(path), content, expected);
        return 'problem' in written ? written.problem : undefined;
      }),
  };
}
