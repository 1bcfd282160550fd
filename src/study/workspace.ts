/**
 * A project made ready for study: the brief's setting, the reference bicycle's profile, each candidate evaluated and judged.
 */
import type { KneeMeans } from '#kernel';
import { type Brief, nearestName, type Problem, type Project, type ResolvedCandidate } from '#project';
import { quantitiesFor } from './catalogue.ts';
import { type Evaluation, evaluate, namesFor, plan } from './evaluate.ts';
import type { Discipline, Tier } from './family.ts';
import { checkBrief, judge, type Ledger } from './judge.ts';
import type { Reference } from './reference.ts';
import { kneesOn } from './run/fit.ts';
import { profileOf } from './run/likeness.ts';
import { hasLuggagePlace } from './run/luggage.ts';
import { runSteer } from './run/steer.ts';
import { type Setting, settingOf } from './setting.ts';

export interface Workspace {
  readonly project: Project;
  readonly brief: Brief;
  readonly setting: Setting;
  readonly reference: Reference | undefined;
  /** Problems of the brief that only the catalogue can show, and of a reference that cannot be computed. */
  readonly problems: readonly Problem[];
  /** Candidates that compete: all but the reference, variants included unless they say `competes: no`. */
  readonly candidates: readonly ResolvedCandidate[];
  /** Variants that do not compete: judged when they are named. */
  readonly extras: readonly ResolvedCandidate[];
}

export interface Judged {
  readonly candidate: ResolvedCandidate;
  readonly evaluation: Evaluation;
  readonly ledger: Ledger;
}

export function openWorkspace(project: Project): Workspace {
  const { brief } = project;
  const setting = settingOf(brief);
  const bicycle = project.candidates.find((c) => c.id === brief.reference);
  const problems: Problem[] = [];
  const reference = bicycle && referenceProfile(bicycle, setting, brief, problems);
  const rivals = project.candidates.filter((c) => c.id !== brief.reference);
  const folding = rivals.filter((c) => c.model.fold.length > 0);
  const candidates = folding.filter((c) => c.competes);
  const extras = folding.filter((c) => !c.competes);
  for (const rigid of rivals.filter((c) => c.model.fold.length === 0 && !c.id.includes('+')))
    problems.push(leftOut(rigid));
  // names that any candidate offers are known to the brief: a demand on a move or body of one is absent for the others
  const all = folding.map((c) => namesFor(c, setting));
  const names = {
    spaces: setting.spaces,
    bodies: [...new Set(all.flatMap((n) => n.bodies))],
    groups: [...new Set(all.flatMap((n) => n.groups))],
    moves: [...new Set(all.flatMap((n) => n.moves))],
    joints: [...new Set(all.flatMap((n) => n.joints))],
    lifts: setting.journey.lifts.map((l) => l.name),
  };
  problems.push(...checkBrief(brief, names), ...luggageProblem(brief, rivals));
  return { project, brief, setting, reference, problems, candidates, extras };
}

/** Luggage at a place that no candidate has would be carried by nothing. */
function luggageProblem(brief: Brief, candidates: readonly ResolvedCandidate[]): Problem[] {
  const { luggage } = brief;
  if (!luggage || candidates.length === 0 || candidates.some((c) => hasLuggagePlace(c.model, luggage.at))) return [];
  const known = [...new Set(candidates.flatMap((c) => [...c.model.top.names.stations, ...c.parts.map((p) => p.name)]))];
  const near = nearestName(luggage.at, known);
  const { line, column, length } = brief.where(['luggage', 'at'], 'value');
  return [
    {
      code: 'name.unknown',
      severity: 'error',
      file: brief.file,
      path: 'luggage.at',
      line,
      column,
      length,
      message: `no candidate has a station or part \`${luggage.at}\` to carry the luggage`,
      hint: near ? `did you mean \`${near}\`?` : 'name a station or a part of the candidates',
    },
  ];
}

function leftOut(rigid: ResolvedCandidate): Problem {
  const { line, column, length } = rigid.where(['fold'], 'key');
  return {
    code: 'fold.move',
    severity: 'caution',
    file: rigid.file,
    path: 'fold',
    line,
    column,
    length,
    message: `${rigid.id} does not fold: it is left out of the choice`,
    hint: 'give it a `fold`, or make it the `reference` of the brief',
  };
}

function referenceProfile(
  bicycle: ResolvedCandidate,
  setting: Setting,
  brief: Brief,
  problems: Problem[],
): Reference | undefined {
  const s = bicycle.model.newState();
  bicycle.model.fill(bicycle.model.x, s);
  try {
    const profile = profileOf(runSteer(bicycle.model, s, setting));
    let knees: KneeMeans | undefined;
    let asked = false;
    return {
      profile,
      knees: () => {
        if (!asked) knees = kneesOn(bicycle, setting);
        asked = true;
        return knees;
      },
    };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const span = brief.where(['reference'], 'value');
    problems.push({
      code: 'role.missing',
      severity: 'caution',
      file: brief.file,
      path: 'reference',
      line: span.line,
      column: span.column,
      length: span.length,
      message: `the reference bicycle cannot be steered: ${error.message}`,
      hint: 'likeness is left out until it can',
    });
    return undefined;
  }
}

/** What a comparison of several candidates leaves out unless the brief asks for it: hundreds of milliseconds of solving a candidate. */
const SLOW: ReadonlySet<Discipline> = new Set([
  'frame_play',
  'frame_buckling',
  'frame_use',
  'frame_blows',
  'frame_folded',
  'fit_change',
]);

/** One candidate judged for a choice among several: everything but the slow quantities that the brief does not name. */
export function judgeForChoice(w: Workspace, candidate: ResolvedCandidate): Judged {
  const named = new Set([...w.brief.demands, ...w.brief.wishes].map((row) => row.quantity));
  const wanted = quantitiesFor(namesFor(candidate, w.setting)).filter(
    (q) => named.has(q.id) || !q.family.needs.some((d) => SLOW.has(d)),
  );
  return judgeCandidate(w, candidate, ['drag', 'settle'], new Set(wanted.map((q) => q.id)));
}

/** One candidate evaluated and judged; `only` limits the quantities to the named ones. */
export function judgeCandidate(
  w: Workspace,
  candidate: ResolvedCandidate,
  tiers: readonly Tier[] = ['drag', 'settle'],
  only?: ReadonlySet<string>,
): Judged {
  const evaluation = evaluate(plan(candidate, w.setting, w.reference, tiers, only));
  return { candidate, evaluation, ledger: judge(w.brief, evaluation) };
}
