/**
 * Project folders on disk: read once into memory, write one file at a time without ever leaving half of one.
 *
 * Nothing outside the folder is read or written, links included: every path is resolved to where it really lies, and
 * that must be inside. A write goes to a temporary file beside the target, is flushed, and then renamed over it; a file
 * that changed on disk since it was read is left alone and reported.
 *
 * Not here: what the files mean (project layer), watching, locking against other programs (the check and the renaming
 * are two steps; a program that writes within that millisecond loses).
 */
import { createHash, randomBytes } from 'node:crypto';
import { constants } from 'node:fs';
import { mkdir, open, readdir, readFile, realpath, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { decodeUtf8, type Problem, type ProblemCode } from '#project';

export interface ReadLimits {
  /** Largest single file in bytes; larger ones are reported, not read. */
  readonly fileBytes: number;
  /** All files together. */
  readonly totalBytes: number;
  /** Number of files. */
  readonly files: number;
  /** Folders within folders. */
  readonly depth: number;
}
/** docs/project-files.md states 5 MB a file; the others stop an accident such as opening a home folder. */
export const READ_LIMITS: ReadLimits = { fileBytes: 5e6, totalBytes: 200e6, files: 5_000, depth: 6 };

/** Endings of the files that a project consists of. */
const READ = ['.yaml', '.yml'];
/** Folders that hold nothing a person wrote. */
const SKIPPED = new Set(['out', 'node_modules']);

/** Folders that a project reads from; as links they would be passed over in silence. */
const LAYOUT = new Set(['candidates']);

/** What a file held when it was read; `absent` for a file that must not exist yet. */
export type Fingerprint = string;
export const ABSENT: Fingerprint = 'absent';

export interface ProjectFolder {
  /** Real path of the folder. */
  readonly root: string;
  /** Path inside the folder with `/` → text, or the bytes where they are not UTF-8. In the order of the paths. */
  readonly files: ReadonlyMap<string, string | Uint8Array>;
  readonly fingerprints: ReadonlyMap<string, Fingerprint>;
  readonly problems: readonly Problem[];
}

const fingerprint = (bytes: Uint8Array): Fingerprint => createHash('sha256').update(bytes).digest('hex');

function diskProblem(code: ProblemCode, file: string, message: string, extra: Partial<Problem> = {}): Problem {
  return { code, severity: 'error', file, path: '', line: 1, column: 1, length: 1, message, ...extra };
}

/** The place of a problem of a file as a whole. */
const WHOLE = { line: 0, column: 0, length: 0 } as const;

/** Both are real paths. */
const isInside = (root: string, path: string): boolean => {
  const way = relative(root, path);
  return way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way);
};

const errorCode = (error: unknown): string => (error as NodeJS.ErrnoException).code ?? '';
const megabytes = (bytes: number): string => `${(bytes / 1e6).toPrecision(3)} MB`;

/** Where `path` really lies: of a file that does not exist yet, where its nearest existing folder lies. */
async function whereReally(path: string): Promise<string> {
  try {
    return await realpath(path);
  } catch (error) {
    if (errorCode(error) !== 'ENOENT') throw error;
    // A link to nowhere exists by itself: writing through it would create its target.
    const isLink = await readdir(dirname(path)).then(
      (names) => names.includes(basename(path)),
      () => false,
    );
    if (isLink) throw new OutsideError(path);
    const parent = dirname(path);
    return parent === path ? path : join(await whereReally(parent), basename(path));
  }
}

class OutsideError extends Error {}

/** Reads all project files of a folder. Never throws for what lies on the disk: what cannot be read is a problem. */
export async function readProjectFolder(folder: string, limits: ReadLimits = READ_LIMITS): Promise<ProjectFolder> {
  const files = new Map<string, string | Uint8Array>();
  const fingerprints = new Map<string, Fingerprint>();
  const problems: Problem[] = [];
  let root: string;
  try {
    root = await realpath(folder);
    if (!(await stat(root)).isDirectory()) {
      const hint = 'name the folder that holds foldwright.yaml';
      problems.push(
        diskProblem('file.missing', folder, `${folder} is a file, not a project folder`, { ...WHOLE, hint }),
      );
      return { root, files, fingerprints, problems };
    }
  } catch {
    const hint = 'foldwright new DIR writes a starter project';
    problems.push(diskProblem('file.missing', folder, `there is no folder ${folder}`, { ...WHOLE, hint }));
    return { root: resolve(folder), files, fingerprints, problems };
  }
  let total = 0;
  const readOne = async (path: string, name: string): Promise<void> => {
    const real = await realpath(path);
    if (!isInside(root, real)) {
      problems.push(diskProblem('file.outside', name, `${name} is a link that leads out of the project folder`));
      return;
    }
    const handle = await open(real, constants.O_RDONLY | constants.O_NONBLOCK);
    try {
      const about = await handle.stat();
      if (!about.isFile()) return;
      if (about.size > limits.fileBytes || total + about.size > limits.totalBytes) {
        const own = about.size > limits.fileBytes;
        const most = megabytes(own ? limits.fileBytes : limits.totalBytes);
        const message = own ? `${name} is too large for a project file` : `${name} would make the project too large`;
        problems.push(
          diskProblem('file.too_large', name, message, { expected: `at most ${most}`, found: megabytes(about.size) }),
        );
        return;
      }
      const bytes = await handle.readFile();
      total += bytes.length;
      fingerprints.set(name, fingerprint(bytes));
      const decoded = decodeUtf8(bytes);
      files.set(name, 'text' in decoded ? decoded.text : new Uint8Array(bytes));
    } finally {
      await handle.close();
    }
  };
  const visit = async (dir: string, prefix: string, depth: number): Promise<void> => {
    const entries = await readdir(dir, { withFileTypes: true });
    entries.sort((a, b) => (a.name < b.name ? -1 : 1));
    for (const entry of entries) {
      const name = prefix + entry.name;
      if (entry.name.startsWith('.') || SKIPPED.has(entry.name)) continue;
      try {
        const isFile = READ.some((ending) => entry.name.toLowerCase().endsWith(ending));
        if (entry.isDirectory()) {
          if (isFile)
            problems.push(diskProblem('file.missing', name, `${name} is a folder, and a file is wanted`, WHOLE));
          if (depth < limits.depth) await visit(join(dir, entry.name), `${name}/`, depth + 1);
        } else if (LAYOUT.has(name) && entry.isSymbolicLink()) {
          const message = `${name} is a link; a project's folders are folders of its own`;
          problems.push(
            diskProblem('file.outside', name, message, { ...WHOLE, hint: 'copy the folder into the project' }),
          );
        } else if (isFile) {
          if (files.size >= limits.files) {
            const message = `the folder holds more than ${limits.files} project files`;
            if (!problems.some((problem) => problem.message === message))
              problems.push(diskProblem('file.too_large', name, message));
            return;
          }
          await readOne(join(dir, entry.name), name);
        }
      } catch (error) {
        problems.push(
          diskProblem('file.missing', name, `${name} cannot be read (${errorCode(error) || String(error)})`),
        );
      }
    }
  };
  await visit(root, '', 0);
  return { root, files, fingerprints, problems };
}

export type WriteResult = { readonly fingerprint: Fingerprint } | { readonly problem: Problem };

/**
 * Writes one file of a project folder as a whole.
 * @param name path inside the folder, with `/`; missing folders are made.
 * @param expected fingerprint from reading, `ABSENT` for a new file, or undefined to replace whatever is there (`out/`): such a
 * file is made again at will and is not flushed to the disk.
 * @returns the new fingerprint, or the problem that kept it from being written; then nothing has changed on the disk.
 */
export async function writeProjectFile(
  folder: string,
  name: string,
  content: string | Uint8Array,
  expected: Fingerprint | undefined,
): Promise<WriteResult> {
  try {
    return await write(folder, name, content, expected);
  } catch (error) {
    const code = errorCode(error);
    if (!code) throw error;
    const why = UNWRITABLE[code] ?? `the system says ${code}`;
    return { problem: diskProblem('file.unwritable', name, `${name} cannot be written: ${why}`, WHOLE) };
  }
}

/** What the system's codes mean to somebody who wanted a file. */
const UNWRITABLE: Readonly<Record<string, string>> = {
  EISDIR: 'there is a folder of that name',
  ENOTDIR: 'a file stands where a folder is needed',
  EEXIST: 'a file stands where a folder is needed',
  ENOENT: 'there is no such folder',
  EACCES: 'no permission',
  EPERM: 'no permission',
  EROFS: 'the disk is read-only',
  ENOSPC: 'the disk is full',
  ENAMETOOLONG: 'the name is too long',
};

async function write(
  folder: string,
  name: string,
  content: string | Uint8Array,
  expected: Fingerprint | undefined,
): Promise<WriteResult> {
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
  const root = await realpath(folder);
  const outside = {
    problem: diskProblem('file.outside', name, `${name} lies outside the project folder; nothing was written`),
  };
  let target: string;
  try {
    target = await whereReally(resolve(root, name));
  } catch (error) {
    if (error instanceof OutsideError) return outside;
    throw error;
  }
  if (name.includes('\0') || !isInside(root, target) || target === root) return outside;
  await mkdir(dirname(target), { recursive: true });

  const temporary = join(dirname(target), `.${basename(target)}.${randomBytes(6).toString('hex')}.new`);
  const mode = await stat(target).then(
    (about) => about.mode & 0o777,
    () => 0o644,
  );
  const handle = await open(temporary, 'wx', mode);
  try {
    try {
      await handle.writeFile(bytes);
      // what can be made again need not wait for the disk; the renaming keeps it whole all the same
      if (expected !== undefined) await handle.sync();
    } finally {
      await handle.close();
    }
    if (expected !== undefined) {
      const now = await current(target);
      if (now !== expected) return { problem: changed(name, now, expected) };
    }
    await rename(temporary, target);
  } finally {
    await rm(temporary, { force: true });
  }
  if (expected !== undefined) await flushFolder(dirname(target));
  return { fingerprint: fingerprint(bytes) };
}

async function current(path: string): Promise<Fingerprint> {
  try {
    return fingerprint(await readFile(path));
  } catch (error) {
    if (errorCode(error) === 'ENOENT') return ABSENT;
    throw error;
  }
}

function changed(name: string, now: Fingerprint, expected: Fingerprint): Problem {
  const what =
    expected === ABSENT
      ? 'exists already'
      : now === ABSENT
        ? 'was removed meanwhile'
        : 'was changed by another program meanwhile';
  const hint = 'read the project again, then repeat the change';
  return diskProblem('file.changed', name, `${name} ${what}; nothing was written`, expected === ABSENT ? {} : { hint });
}

/** Makes the renaming itself last through a power cut; not every system lets a folder be opened. */
async function flushFolder(path: string): Promise<void> {
  try {
    const handle = await open(path, 'r');
    await handle.sync().finally(() => handle.close());
  } catch {
    // Windows and some network folders: the file itself is flushed, which is what can be had.
  }
}
