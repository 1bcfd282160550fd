/** `foldwright tune`: gauges from stock lists for the least mass that holds what the frame must. */
import { join, resolve } from 'node:path';
import { nearestName, type Problem, type ResolvedCandidate } from '#project';
import {
  GENERAL_CAUTION,
  type TuneOptions as StudyOptions,
  stiffnessQuantities,
  type Tuned,
  type Tuning,
  tune,
  USUAL_AGAINST,
  type Workspace,
  writeVariant,
} from '#study';
import type { Effects } from '../effects.ts';
import { EXIT } from '../exit.ts';
import { type Opened, tellProblems } from '../open-project.ts';
import { printJson, usageProblem } from '../print.ts';
import { startProgress } from '../progress.ts';
import { wrapped } from '../table.ts';
import { begin, pick, refuse, unusable } from './judge-commands.ts';
import { tuneJson } from './tune-json.ts';
import { tuneText } from './tune-text.ts';

export interface TuneCommandOptions {
  readonly json?: boolean;
  readonly project?: string;
  readonly outside?: boolean;
  readonly against?: string;
  /** False for `--no-curve`. */
  readonly curve?: boolean;
  readonly svg?: string;
  readonly write?: boolean;
  readonly writeAs?: string;
}

const NO_ROOM =
  'A frame at its limits keeps no room for what the model leaves out: dents, corrosion, walls at the thin end of their tolerance, poor welds.';

const WORDS: Readonly<Record<Tuning['doing'], string>> = {
  sizing: 'looking for the lightest gauges',
  proof: 'judging the changed text',
  curve: 'mass against stiffness',
};

export async function tuneCandidate(
  given: readonly string[],
  options: TuneCommandOptions,
  effects: Effects,
): Promise<number> {
  const wrong = misuse(options);
  if (wrong) return refuse(wrong, options, effects);
  const begun = await begin(given, options, effects);
  if (typeof begun === 'number') return begun;
  const { opened, w, rest } = begun;
  const known = w.candidates.map((c) => c.id);
  if (rest.length !== 1)
    return refuse(
      usageProblem('cli.usage', 'tune takes one candidate', `candidates: ${known.join(', ') || 'none'}`),
      options,
      effects,
    );
  const picked = pick(w, opened, rest[0]!);
  if ('opened' in picked) return unusable(picked.opened, options, effects);
  const candidate = w.project.candidates.find((c) => c.id === picked.id)!;
  const tuned = await run(w, candidate, options, effects);
  if ('refused' in tuned) return refuse(usageProblem('role.missing', tuned.refused), options, effects);
  const picture = await draw(tuned, options, effects);
  const written = await write(w, opened, tuned, options, effects);
  const failed = [...picture, ...(Array.isArray(written) ? written : [])];
  const problems = [
    ...opened.problems.filter((p) => p.file === candidate.file || !p.file.startsWith('candidates/')),
    ...failed,
  ];
  if (options.json)
    printJson(effects, {
      project: w.project.name,
      ...tuneJson(tuned),
      written: Array.isArray(written) ? null : written,
      problems,
    });
  else {
    tellProblems(effects, { problems, sources: opened.sources });
    effects.stdout.write(tuneText(tuned));
    if (Array.isArray(written)) effects.stdout.write('\nNothing was written.\n');
    else if (written) effects.stdout.write(`\n${writtenText(tuned, written)}`);
    else if (options.write || options.writeAs !== undefined)
      effects.stdout.write(
        `\nNothing was written: ${tuned.holds ? 'no section changes' : 'these gauges do not hold all'}.\n`,
      );
    if (options.svg !== undefined && picture.length === 0)
      effects.stdout.write(
        tuned.curve?.points.length ? `\nWrote ${options.svg}\n` : '\nNo picture: there is no curve.\n',
      );
    effects.stdout.write(`\n${wrapped(`${NO_ROOM} ${GENERAL_CAUTION}`, 100, 0)}`);
  }
  if (failed.length > 0) return EXIT.unusable;
  return tuned.holds ? EXIT.holds : EXIT.fails;
}

function misuse({ against, curve, svg, write, writeAs }: TuneCommandOptions): Problem | undefined {
  const names = stiffnessQuantities();
  if (against !== undefined && !names.includes(against)) {
    const near = nearestName(against, names);
    const hint = near ? `did you mean ${near}?` : names.join(', ');
    return usageProblem('quantity.unknown', `${JSON.stringify(against)} is no stiffness`, hint);
  }
  if (curve === false && (against !== undefined || svg !== undefined))
    return usageProblem('cli.usage', 'without a curve there is nothing to draw', 'leave --no-curve out');
  // A picture named after a project file would replace it.
  if (svg !== undefined && !/\.svg$/i.test(svg))
    return usageProblem('cli.usage', `${JSON.stringify(svg)} is no name for a picture`, 'end it in .svg');
  if (write && writeAs !== undefined)
    return usageProblem('cli.usage', '--write changes the file, --write-as adds a variant', 'choose one');
  if (writeAs !== undefined && !/^[a-z][a-z0-9_]*$/.test(writeAs))
    return usageProblem(
      'name.invalid',
      `${JSON.stringify(writeAs)} is no name for a variant`,
      'small letters, digits, _',
    );
  return undefined;
}

async function run(
  w: Workspace,
  candidate: ResolvedCandidate,
  { outside, against, curve }: TuneCommandOptions,
  effects: Effects,
): Promise<Tuned | { readonly refused: string }> {
  const stiffness = against?.replace(/^frame\./, '') ?? USUAL_AGAINST;
  const how: StudyOptions = {
    outside: outside ?? false,
    ...(curve === false ? {} : { against: stiffness as typeof USUAL_AGAINST }),
  };
  const progress = startProgress(effects);
  const work = tune(w, candidate, how);
  for (;;) {
    const step = work.next();
    if (step.done) {
      progress.end();
      return step.value;
    }
    await progress.say(`tuning ${candidate.id}: ${WORDS[step.value.doing]}, ${step.value.count} frames`);
  }
}

async function draw(tuned: Tuned, { svg }: TuneCommandOptions, effects: Effects): Promise<Problem[]> {
  if (svg === undefined) return [];
  const { standaloneSvg, tuneCurve } = await import('#draw');
  const picture = tuneCurve(tuned);
  if (!picture) return [];
  const problem = await effects.writeFile(resolve(effects.cwd, svg), standaloneSvg(picture.picture, picture.title));
  return problem ? [{ ...problem, file: svg }] : [];
}

interface Written {
  readonly file: string;
  /** Name of the new variant; null where the file's own sections changed. */
  readonly variant: string | null;
  /** Copy of the file as it was; null where nothing was replaced. */
  readonly copy: string | null;
  readonly before: Readonly<Record<string, string>>;
}

/** @returns what was written, undefined where nothing was to be, or what kept it from being written. */
async function write(
  w: Workspace,
  opened: Opened,
  tuned: Tuned,
  { write: inPlace, writeAs }: TuneCommandOptions,
  effects: Effects,
): Promise<Written | undefined | Problem[]> {
  if ((!inPlace && writeAs === undefined) || tuned.source === undefined) return undefined;
  const { candidate } = tuned;
  const { file } = candidate;
  const source = writeAs === undefined ? tuned.source : writeVariant(w, candidate, tuned.edits, writeAs);
  if (typeof source !== 'string' && source.source === undefined)
    return [usageProblem('variant.path', source.refused ?? 'the variant cannot be written')];
  const copy = writeAs === undefined ? await keep(opened, file, candidate.id, effects) : null;
  if (copy !== null && typeof copy !== 'string') return [copy];
  const text = typeof source === 'string' ? source : source.source!;
  const problem = await effects.writeFile(join(opened.folder, file), text, opened.fingerprints.get(file));
  if (problem) return [{ ...problem, file }];
  const before = Object.fromEntries(
    tuned.tubes.filter((g) => g.changed).flatMap((g) => g.tubes.map((name) => [name, g.section])),
  );
  return { file, variant: writeAs ?? null, copy, before };
}

/** A copy of the file as it was, under a name that no earlier copy has. */
async function keep(opened: Opened, file: string, id: string, effects: Effects): Promise<string | Problem> {
  const free = async (name: string): Promise<boolean> =>
    effects.readFile(join(opened.folder, name)).then(
      () => false,
      () => true,
    );
  const base = `out/${id.replace('+', '-')}-before-tune`;
  let name = `${base}.yaml`;
  for (let n = 2; !(await free(name)); n++) name = `${base}-${n}.yaml`;
  const problem = await effects.writeFile(join(opened.folder, name), opened.sources.get(file)!);
  return problem ? { ...problem, file: name } : name;
}

function writtenText(t: Tuned, { file, variant, copy, before }: Written): string {
  if (variant !== null)
    return `Wrote the variant ${t.candidate.id}+${variant} into ${file}; remove it there to undo.\n`;
  const old = Object.entries(before).map(([name, section]) => `  ${name}: ${section}\n`);
  return `Wrote ${file}. To undo, copy ${copy} over it, or put back:\n${old.join('')}`;
}
