/** `foldwright check`, `choose` and `compare`: read the project, judge, print. */
import { resolve } from 'node:path';
import { nearestName, type Problem, type ResolvedCandidate } from '#project';
import {
  type Cure,
  choose,
  explain,
  findCures,
  findings,
  findQuantity,
  GENERAL_CAUTION,
  type Judged,
  judgeCandidate,
  judgeForChoice,
  namesFor,
  quantitiesFor,
  type Workspace,
} from '#study';
import type { Effects } from '../effects.ts';
import { EXIT } from '../exit.ts';
import { errorsIn, locate, type Opened, openProject, tellProblems } from '../open-project.ts';
import { printJson, usageProblem } from '../print.ts';
import { startProgress } from '../progress.ts';
import { wrapped } from '../table.ts';
import { candidateJson, choiceJson, quantitiesJson } from './ledger-json.ts';
import { candidateText, choiceText, matrixText, sheetText } from './ledger-text.ts';

export interface JudgeOptions {
  readonly json?: boolean;
  readonly html?: string;
  readonly project?: string;
  readonly explain?: string;
  readonly quantities?: boolean;
}

const CAUTION = wrapped(GENERAL_CAUTION, 100, 0);

/** Everything before the judging: the workspace, or the exit code of a project that cannot be used. */
export async function begin(
  given: readonly string[],
  options: JudgeOptions,
  effects: Effects,
): Promise<{ opened: Opened; w: Workspace; rest: readonly string[] } | number> {
  const wrong = misuse(options);
  if (wrong) return refuse(wrong, options, effects);
  const { folder, rest } = await locate(effects, given, options.project);
  const opened = await openProject(folder, given[0]);
  const w = opened.workspace;
  if (!w) return unusable(opened, options, effects);
  if (w.candidates.length > 0 || rest.length > 0 || errorsIn(opened.problems)) return { opened, w, rest };
  const none = usageProblem(
    'file.missing',
    'there is no candidate to judge',
    'write candidates/NAME.yaml with a fold; `foldwright new` and `foldwright import` show and make some',
  );
  return unusable({ ...opened, problems: [...opened.problems, none] }, options, effects);
}

/** Options that would do harm or nothing. */
function misuse({ html, explain, quantities }: JudgeOptions): Problem | undefined {
  if (html === undefined) return undefined;
  // A page named brief.yaml would replace the brief.
  if (!/\.html?$/i.test(html))
    return usageProblem('cli.usage', `${JSON.stringify(html)} is no name for a page`, 'end it in .html');
  if (explain !== undefined || quantities)
    return usageProblem('cli.usage', 'a page shows ledgers, not one sheet or a list', 'leave --html out here');
  return undefined;
}

export const refuse = (problem: Problem, options: JudgeOptions, effects: Effects): number =>
  unusable({ problems: [problem], sources: new Map() }, options, effects);

export function unusable(
  opened: Pick<Opened, 'problems' | 'sources'>,
  options: JudgeOptions,
  effects: Effects,
): number {
  if (options.json) printJson(effects, { problems: opened.problems });
  else tellProblems(effects, opened);
  return EXIT.unusable;
}

/** The candidate of that id; a path to its file is taken for its name. */
export function pick(
  w: Workspace,
  opened: Opened,
  given: string,
): { id: string } | { opened: Pick<Opened, 'problems' | 'sources'> } {
  const id = given.replace(/^.*\//, '').replace(/\.ya?ml$/, '');
  if (w.project.candidates.some((c) => c.id === id)) return { id };
  const own = opened.problems.filter((p) => p.file === `candidates/${id.split('+')[0]}.yaml`);
  if (errorsIn(own)) return { opened: { problems: own, sources: opened.sources } };
  const known = w.project.candidates.map((c) => c.id);
  const near = nearestName(id, known);
  const hint = near ? `did you mean ${near}?` : `candidates: ${known.join(', ') || 'none'}`;
  return {
    opened: {
      problems: [usageProblem('name.unknown', `there is no candidate ${JSON.stringify(given)}`, hint)],
      sources: new Map(),
    },
  };
}

async function judgeAll(
  w: Workspace,
  candidates: readonly ResolvedCandidate[],
  effects: Effects,
  how: (w: Workspace, c: ResolvedCandidate) => Judged = judgeCandidate,
): Promise<Judged[]> {
  const progress = startProgress(effects);
  const judged: Judged[] = [];
  for (const [i, c] of candidates.entries()) {
    await progress.say(`judging ${c.id}, ${i + 1} of ${candidates.length}`);
    judged.push(how(w, c));
  }
  progress.end();
  return judged;
}

export async function check(given: readonly string[], options: JudgeOptions, effects: Effects): Promise<number> {
  const begun = await begin(given, options, effects);
  if (typeof begun === 'number') return begun;
  const { opened, w, rest } = begun;
  if (rest.length > 1) {
    const hint = '`foldwright choose` and `foldwright compare` take several';
    return refuse(usageProblem('cli.usage', 'check takes one candidate, or all', hint), options, effects);
  }
  let candidates = w.candidates;
  let { problems } = opened;
  if (rest[0] !== undefined) {
    const picked = pick(w, opened, rest[0]);
    if ('opened' in picked) return unusable(picked.opened, options, effects);
    candidates = w.project.candidates.filter((c) => c.id === picked.id);
    problems = problems.filter((p) => p.file === candidates[0]!.file || !p.file.startsWith('candidates/'));
  }
  if (options.quantities) return listQuantities(w, options, effects);
  const judged = await judgeAll(w, candidates, effects);
  if (options.explain !== undefined) return explainOne(w, judged, options.explain, options, effects);
  const page = await writeHtml(w, judged, new Map(), undefined, options, effects);
  problems = [...problems, ...judged.flatMap(findings), ...page];
  if (options.json)
    printJson(effects, {
      project: w.project.name,
      candidates: judged.map((j) => ({ ...candidateJson(j), quantities: quantitiesJson(j) })),
      problems,
    });
  else {
    tellProblems(effects, { problems, sources: opened.sources });
    effects.stdout.write(judged.map(candidateText).join('\n'));
    if (judged.length > 0) effects.stdout.write(`\n${CAUTION}`);
    else effects.stdout.write('No candidate can be judged.\n');
    tellPage(options, problems, effects);
  }
  if (errorsIn(problems) || judged.length === 0) return EXIT.unusable;
  return judged.every((j) => j.ledger.holdsAll) ? EXIT.holds : EXIT.fails;
}

function listQuantities(w: Workspace, options: JudgeOptions, effects: Effects): number {
  const seen = new Map<string, { unit: string; title: string }>();
  for (const c of w.candidates)
    for (const q of quantitiesFor(namesFor(c, w.setting)))
      seen.set(q.id, { unit: q.family.unit, title: q.family.title });
  const rows = [...seen].map(([quantity, { unit, title }]) => ({ quantity, unit, title }));
  if (options.json) printJson(effects, { quantities: rows });
  else for (const r of rows) effects.stdout.write(`${r.quantity.padEnd(40)} ${r.unit.padEnd(10)} ${r.title}\n`);
  return EXIT.holds;
}

function explainOne(
  w: Workspace,
  judged: readonly Judged[],
  id: string,
  options: JudgeOptions,
  effects: Effects,
): number {
  const sheets = [];
  for (const j of judged) {
    const found = findQuantity(id, namesFor(j.candidate, w.setting));
    if (!('quantity' in found)) {
      if (judged.length > 1) continue;
      const hint = found.nearest ? `did you mean ${found.nearest}?` : '`foldwright check --quantities` lists them all';
      return unusable(
        {
          problems: [usageProblem('quantity.unknown', `there is no quantity ${JSON.stringify(id)}`, hint)],
          sources: new Map(),
        },
        options,
        effects,
      );
    }
    sheets.push({ candidate: j.candidate.id, ...explain(j, found.quantity, w) });
  }
  if (sheets.length === 0)
    return unusable(
      {
        problems: [
          usageProblem(
            'quantity.unknown',
            `no candidate has a quantity ${JSON.stringify(id)}`,
            '`foldwright check --quantities` lists them all',
          ),
        ],
        sources: new Map(),
      },
      options,
      effects,
    );
  if (options.json) printJson(effects, { sheets });
  else effects.stdout.write(sheets.map((s) => sheetText(s, s.candidate)).join('\n'));
  return EXIT.holds;
}

export async function chooseOne(given: readonly string[], options: JudgeOptions, effects: Effects): Promise<number> {
  const begun = await begin(given, options, effects);
  if (typeof begun === 'number') return begun;
  const { opened, w, rest } = begun;
  const wanted: string[] = [];
  for (const arg of rest) {
    const picked = pick(w, opened, arg);
    if ('opened' in picked) return unusable(picked.opened, options, effects);
    wanted.push(picked.id);
  }
  const compete = wanted.length ? [...w.candidates, ...w.extras].filter((c) => wanted.includes(c.id)) : w.candidates;
  return decide(w, opened, await judgeAll(w, compete, effects, judgeForChoice), options, effects);
}

export async function compare(given: readonly string[], options: JudgeOptions, effects: Effects): Promise<number> {
  const begun = await begin(given, options, effects);
  if (typeof begun === 'number') return begun;
  const { opened, w, rest } = begun;
  if (rest.length !== 2)
    return refuse(
      usageProblem('cli.usage', 'compare needs two candidates', 'foldwright compare [PROJECT] A B'),
      options,
      effects,
    );
  const two: ResolvedCandidate[] = [];
  for (const arg of rest) {
    const picked = pick(w, opened, arg);
    if ('opened' in picked) return unusable(picked.opened, options, effects);
    two.push(w.project.candidates.find((c) => c.id === picked.id)!);
  }
  if (two[0] === two[1]) {
    const hint = `candidates: ${w.project.candidates.map((c) => c.id).join(', ')}`;
    return refuse(usageProblem('cli.usage', `${two[0]!.id} is compared with itself`, hint), options, effects);
  }
  return decide(w, opened, await judgeAll(w, two, effects, judgeForChoice), options, effects);
}

async function decide(
  w: Workspace,
  opened: Opened,
  judged: readonly Judged[],
  options: JudgeOptions,
  effects: Effects,
): Promise<number> {
  const found = [...opened.problems, ...judged.flatMap(findings)];
  const choice = choose(judged, w.brief.weightsSweep);
  const cures = new Map<string, readonly Cure[]>();
  const progress = startProgress(effects);
  for (const j of judged)
    if (!j.ledger.holdsAll) {
      await progress.say(`looking for what would cure ${j.candidate.id}`);
      cures.set(j.candidate.id, findCures(w, j));
    }
  progress.end();
  const problems = [...found, ...(await writeHtml(w, judged, cures, choice, options, effects))];
  if (options.json)
    printJson(effects, {
      project: w.project.name,
      candidates: judged.map(candidateJson),
      choice: choiceJson(choice, cures),
      problems,
    });
  else {
    tellProblems(effects, { problems, sources: opened.sources });
    if (judged.length === 0) {
      effects.stdout.write('No candidate can be judged: mend the problems above, or add a candidate that folds.\n');
      return EXIT.unusable;
    }
    const count = w.brief.demands.length;
    const of = (n: number, word: string, more: string) => `${n} ${n === 1 ? word : more}`;
    effects.stdout.write(
      `${w.brief.name}: ${of(judged.length, 'candidate', 'candidates')}, ${of(count, 'demand', 'demands')}, ${of(w.brief.wishes.length, 'wish', 'wishes')}\n\n`,
    );
    effects.stdout.write(`${matrixText(judged)}\n${choiceText(choice, cures)}\n${CAUTION}`);
    tellPage(options, problems, effects);
  }
  if (errorsIn(problems) || judged.length === 0) return EXIT.unusable;
  return choice.build === undefined ? EXIT.fails : EXIT.holds;
}

/** Writes the page that was asked for; what kept it from being written is a problem like others. */
async function writeHtml(
  w: Workspace,
  judged: readonly Judged[],
  cures: ReadonlyMap<string, readonly Cure[]>,
  choice: ReturnType<typeof choose> | undefined,
  options: JudgeOptions,
  effects: Effects,
): Promise<Problem[]> {
  if (options.html === undefined) return [];
  const { page } = await import('#draw');
  const text = page({ workspace: w, judged, cures, ...(choice ? { choice } : {}) });
  const problem = await effects.writeFile(resolve(effects.cwd, options.html), text);
  return problem ? [{ ...problem, file: options.html }] : [];
}

function tellPage({ html }: JudgeOptions, problems: readonly Problem[], effects: Effects): void {
  const written = html !== undefined && !problems.some((p) => p.file === html);
  if (written) effects.stdout.write(`\nWrote ${html}\n`);
}
