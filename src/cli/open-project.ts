/**
 * Which project a command works on: the folder named first on the command line, else `--project`, else the folder we are
 * in or the nearest one above that holds a foldwright.yaml.
 */
import { dirname, join, resolve } from 'node:path';
import { type Problem, readProject, renderProblems } from '#project';
import { type Fingerprint, readProjectFolder } from '#server';
import { openWorkspace, type Workspace } from '#study';
import type { Effects } from './effects.ts';
import { usageProblem } from './print.ts';

const exists = async (effects: Effects, path: string): Promise<boolean> =>
  effects.readFile(path).then(
    () => true,
    () => false,
  );

export const isProject = (effects: Effects, folder: string): Promise<boolean> =>
  exists(effects, join(resolve(effects.cwd, folder), 'foldwright.yaml'));

/** The project folder and the arguments that are left when the first one names it. */
export async function locate(
  effects: Effects,
  given: readonly string[],
  option: string | undefined,
): Promise<{ folder: string | undefined; rest: readonly string[] }> {
  if (option !== undefined) return { folder: resolve(effects.cwd, option), rest: given };
  if (given[0] !== undefined && (await isProject(effects, given[0])))
    return { folder: resolve(effects.cwd, given[0]), rest: given.slice(1) };
  for (let folder = effects.cwd; ; folder = dirname(folder)) {
    if (await exists(effects, join(folder, 'foldwright.yaml'))) return { folder, rest: given };
    if (dirname(folder) === folder) return { folder: undefined, rest: given };
  }
}

export interface Opened {
  readonly folder: string;
  /** Undefined when the project as a whole cannot be used. */
  readonly workspace: Workspace | undefined;
  readonly problems: readonly Problem[];
  readonly sources: ReadonlyMap<string, string>;
  /** What each file held when it was read, for a later write. */
  readonly fingerprints: ReadonlyMap<string, Fingerprint>;
}

/** `asked` is what the command line named first, for the message where there is no project. */
export async function openProject(folder: string | undefined, asked?: string): Promise<Opened> {
  if (folder === undefined)
    return {
      folder: '',
      workspace: undefined,
      problems: [
        usageProblem(
          'file.missing',
          asked === undefined
            ? 'there is no foldwright.yaml here or above'
            : `${JSON.stringify(asked)} is not a project folder, and there is no foldwright.yaml here or above`,
          'name the folder that holds foldwright.yaml, or start one with `foldwright new DIR`',
        ),
      ],
      sources: new Map(),
      fingerprints: new Map(),
    };
  const disk = await readProjectFolder(folder);
  // Bytes that are not UTF-8 are shown as far as they can be, so that the place of the first wrong one can be pointed at.
  const loose = new TextDecoder('utf-8', { ignoreBOM: true });
  const sources = new Map(
    [...disk.files].map(([name, text]) => [name, typeof text === 'string' ? text : loose.decode(text)]),
  );
  const read = disk.files.size > 0 || disk.problems.length === 0 ? readProject(disk.files) : { problems: [] };
  const workspace = 'project' in read && read.project ? openWorkspace(read.project) : undefined;
  const problems = [...disk.problems, ...read.problems, ...(workspace?.problems ?? [])];
  const unusable = workspace?.problems.some((p) => p.severity === 'error') ?? false;
  const { fingerprints } = disk;
  return { folder: disk.root ?? folder, workspace: unusable ? undefined : workspace, problems, sources, fingerprints };
}

export const errorsIn = (problems: readonly Problem[]): boolean => problems.some((p) => p.severity === 'error');

/** Problems for people, on stderr. */
export function tellProblems(effects: Effects, opened: Pick<Opened, 'problems' | 'sources'>): void {
  if (opened.problems.length > 0) effects.stderr.write(renderProblems(opened.problems, opened.sources));
}
