/** A copy of the project's own files, as a clone would have them, in a folder of its own; and running things in it. */
import { spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';

export const root = join(import.meta.dirname, '..');

export function makeClone(): string {
  const base = mkdtempSync(join(tmpdir(), 'foldwright-clone-'));
  const listed = spawnSync('git', ['ls-files', '-z', '--cached', '--others', '--exclude-standard'], {
    cwd: root,
    encoding: 'utf8',
  });
  for (const name of listed.stdout.split('\0').filter((path) => path !== '' && existsSync(join(root, path)))) {
    mkdirSync(dirname(join(base, name)), { recursive: true });
    cpSync(join(root, name), join(base, name));
  }
  return base;
}

export interface Ran {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
  readonly seconds: number;
}
/** Environment without what a surrounding `npm run` adds. */
const plainEnvironment = (): NodeJS.ProcessEnv =>
  Object.fromEntries(Object.entries(process.env).filter(([name]) => !/^(npm_|VITEST|NODE_ENV|FOLDWRIGHT)/.test(name)));

export function run(
  cwd: string,
  command: string,
  args: readonly string[],
  env: NodeJS.ProcessEnv = {},
  input = '',
): Promise<Ran> {
  const start = performance.now();
  return new Promise((resolve, reject) => {
    const child = spawn(command, args, {
      cwd,
      env: { ...plainEnvironment(), ...env },
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    let stdout = '';
    let stderr = '';
    child.stdout.on('data', (data) => (stdout += data));
    child.stderr.on('data', (data) => (stderr += data));
    child.stdin.on('error', () => {}); // it did not want its input
    child.stdin.end(input);
    child.on('error', reject);
    child.on('close', (code) => resolve({ code, stdout, stderr, seconds: (performance.now() - start) / 1000 }));
  });
}
