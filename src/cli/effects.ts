/** Everything that the command line takes from the outside world, so that `run` can be tested without one. */
import { mkdir, readFile } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import { writeProjectFile } from '#server';

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
  /** Writes a file as a whole: an interrupted write leaves the old one. Missing folders are made. */
  writeFile(path: string, content: string | Uint8Array): Promise<void>;
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
    async writeFile(path, content) {
      await mkdir(dirname(path), { recursive: true });
      const written = await writeProjectFile(dirname(path), basename(path), content, undefined);
      if ('problem' in written) throw new Error(written.problem.message);
    },
  };
}
