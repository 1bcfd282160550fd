/** `foldwright new` and `foldwright import`: files that somebody goes on working with. */
import { mkdir, readdir } from 'node:fs/promises';
import { basename, relative, resolve } from 'node:path';
import { importGeometry, type Problem, renderProblems, starterFiles } from '#project';
import { ABSENT, writeProjectFile } from '#server';
import type { Effects } from '../effects.ts';
import { EXIT } from '../exit.ts';
import { printJson, printProblems, usageProblem } from '../print.ts';

export interface FileOptions {
  readonly json?: boolean;
  readonly plane?: string;
  readonly unit?: string;
  readonly section?: string;
  readonly material?: string;
  readonly out?: string;
}

/** Why a file that was named cannot be read. */
function unreadable(file: string, error: unknown): string {
  const { code = '', message } = error as NodeJS.ErrnoException;
  if (code === 'ENOENT' || code === 'ENOTDIR') return `there is no file ${file}`;
  if (code === 'EISDIR') return `${file} is a folder`;
  return `${file} cannot be read: ${code === 'EACCES' || code === 'EPERM' ? 'no permission' : message}`;
}

function refuse(
  problems: readonly Problem[],
  options: FileOptions,
  effects: Effects,
  sources?: ReadonlyMap<string, string>,
): number {
  if (options.json) return printProblems(effects, problems);
  effects.stderr.write(renderProblems(problems, sources));
  return EXIT.unusable;
}

/** Writes the starter into a folder that is new or empty; nothing that exists is overwritten. */
export async function newProject(dir: string, options: FileOptions, effects: Effects): Promise<number> {
  const folder = resolve(effects.cwd, dir);
  try {
    await mkdir(folder, { recursive: true });
    if ((await readdir(folder)).length > 0)
      return refuse(
        [usageProblem('file.changed', `${dir} is not empty`, 'name a folder that does not exist yet')],
        options,
        effects,
      );
  } catch (error) {
    return refuse(
      [usageProblem('file.outside', `${dir} cannot be a project folder: ${(error as Error).message}`)],
      options,
      effects,
    );
  }
  const files = starterFiles(basename(folder));
  for (const [name, text] of files) {
    const written = await writeProjectFile(folder, name, text, ABSENT);
    if ('problem' in written) return refuse([written.problem], options, effects);
  }
  const names = [...files.keys()];
  if (options.json) printJson(effects, { project: basename(folder), files: names });
  else
    effects.stdout.write(
      `Wrote ${names.join(', ')} in ${dir}\nNext: foldwright check ${relative(effects.cwd, folder) || '.'}\n`,
    );
  return EXIT.holds;
}

/** Turns points or lines into a candidate's text: on stdout, or into a new file with `--out`. */
export async function importFile(file: string, options: FileOptions, effects: Effects): Promise<number> {
  const kind = /\.(csv|dxf)$/i.exec(file)?.[1]?.toLowerCase() as 'csv' | 'dxf' | undefined;
  if (!kind)
    return refuse(
      [usageProblem('cli.usage', `${file} is neither .csv nor .dxf`, 'points or lines come as CSV or DXF')],
      options,
      effects,
    );
  if (options.plane !== undefined && !['side', 'top', 'space'].includes(options.plane))
    return refuse(
      [usageProblem('cli.usage', `there is no plane ${JSON.stringify(options.plane)}`, 'side, top or space')],
      options,
      effects,
    );
  let source: Uint8Array;
  try {
    source = await effects.readFile(resolve(effects.cwd, file));
  } catch (error) {
    return refuse([usageProblem('file.missing', unreadable(file, error))], options, effects);
  }
  const { plane, unit, section, material } = options;
  const result = importGeometry(kind, source, {
    file,
    candidate: basename(file).replace(/\.[^.]+$/, ''),
    ...(plane ? { plane: plane as 'side' | 'top' | 'space' } : {}),
    ...(unit ? { unit } : {}),
    ...(section ? { section } : {}),
    ...(material ? { material } : {}),
  });
  const sources = new Map([[file, new TextDecoder().decode(source)]]);
  if (result.text === undefined) return refuse(result.problems, options, effects, sources);
  if (options.out !== undefined) {
    const path = resolve(effects.cwd, options.out);
    const written = await writeProjectFile(resolve(path, '..'), basename(path), result.text, ABSENT);
    if ('problem' in written) return refuse([written.problem], options, effects);
  }
  if (options.json) {
    const { text, ...rest } = result;
    printJson(effects, options.out === undefined ? { ...rest, text } : rest);
    return EXIT.holds;
  }
  if (result.problems.length > 0) effects.stderr.write(renderProblems(result.problems, sources));
  if (options.out === undefined) effects.stdout.write(result.text);
  else
    effects.stdout.write(
      `Wrote ${options.out}: ${result.stations} stations, ${result.tubes} tubes in ${result.bodies.join(', ')}\n`,
    );
  return EXIT.holds;
}
