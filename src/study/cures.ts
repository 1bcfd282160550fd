/**
 * What would have to change: one named dimension of the file that, moved as little as possible, makes a candidate that
 * misses demands hold them all.
 *
 * For each free dimension the missed figure's slope gives a first guess; for the few that promise the smallest change, guesses
 * of 1, 1.5, 2.5 and 4 times that step are tried, rounded outwards to whole millimetres or half degrees. A cure is accepted only after the edited text itself has been
 * read, resolved, evaluated and judged again: it is the edit, not the model, that is shown to hold. Not found does not mean
 * that there is none: two dimensions at once, and other topologies, are not tried.
 */
import type { State } from '#kernel';
import { DIMENSION, formatQuantity, readDocument, resolveCandidate, sameDimension, setValue } from '#project';
import { evaluate, plan } from './evaluate.ts';
import { judge } from './judge.ts';
import { type Judged, judgeCandidate, type Workspace } from './workspace.ts';

export interface Cure {
  readonly dimension: string;
  /** As the file writes them. */
  readonly from: string;
  readonly to: string;
  /** Demands still missed after the edit: 0 for a whole cure. */
  readonly left: number;
  /** Figures of the demands that were missed, after the edit. */
  readonly after: readonly {
    readonly quantity: string;
    readonly value: number | null;
    readonly unit: string;
    readonly margin: number | null;
  }[];
}

/** Farthest that a length is moved, as a share of its size, or `least` where it is small; an angle is moved by `least` at most. */
const FARTHEST = 0.25;
const TRIES = [1, 1.5, 2.5, 4] as const;

interface Grain {
  readonly unit: string;
  readonly grain: number;
  readonly slopeStep: number;
  readonly least: number;
}
function grainOf(dimension: readonly number[]): Grain | undefined {
  if (sameDimension(dimension as never, DIMENSION.length as never))
    return { unit: 'mm', grain: 0.001, slopeStep: 0.002, least: 0.03 };
  if (sameDimension(dimension as never, DIMENSION.angle as never))
    return { unit: 'deg', grain: Math.PI / 360, slopeStep: Math.PI / 360, least: Math.PI / 18 };
  return undefined;
}

/** A candidate that misses more than this is not one edit away, and is not searched. */
export const MOST_MISSES = 2;
/** Dimensions whose guesses are tried: those that promise the smallest change. */
const MOST_TRIED = 4;

/** Cures of one candidate, whole ones first, then the smallest relative change; `most` at most. Empty when it misses too many. */
export function findCures(w: Workspace, j: Judged, most = 2): Cure[] {
  const misses = j.ledger.rows.filter((r) => r.kind === 'demand' && !r.holds);
  if (misses.length === 0 || misses.length > MOST_MISSES) return [];
  const { candidate } = j;
  const { x: x0 } = candidate.model;
  // only what the missed demands need is computed while searching; the whole ledger is judged when an edit is proved
  const missed = plan(
    candidate,
    w.setting,
    w.reference,
    ['drag', 'settle', 'ask'],
    new Set(misses.map((r) => r.quantity)),
  );
  const s: State = candidate.model.newState();
  const at = (k: number, dx: number): Look => {
    const x = x0.slice();
    x[k]! += dx;
    const { rows } = judge(w.brief, evaluate(missed, x, s));
    const own = misses.map(
      (m) => rows.find((r) => r.quantity === m.quantity && r.sense === m.sense && r.kind === 'demand')!,
    );
    return { left: own.filter((r) => !r.holds).length, margin: own[0]!.margin };
  };
  const leads = candidate.free
    .flatMap((k) => {
      const grain = grainOf(candidate.slots[k]!.dimension);
      return grain
        ? guessesFor(x0[k]!, grain, misses.length, misses[0]!.margin, (dx) => at(k, dx)).map((g) => ({
            k,
            grain,
            ...g,
          }))
        : [];
    })
    .sort((a, b) => a.size - b.size)
    .slice(0, MOST_TRIED);
  const cautions = cautionsOf(w, j);
  const found: { cure: Cure; size: number }[] = [];
  for (const { k, grain, guesses } of leads) {
    if (found.filter((f) => f.cure.left === 0).length >= most) break;
    const dx = nearest(guesses, grain, misses.length, (step) => at(k, step).left);
    if (dx === undefined) continue;
    const cure = prove(w, j, k, x0[k]! + dx, grain.unit, cautions);
    if (cure && cure.left < misses.length)
      found.push({ cure, size: Math.abs(dx) / Math.max(Math.abs(x0[k]!), grain.least) });
  }
  return found
    .sort((a, b) => a.cure.left - b.cure.left || a.size - b.size)
    .slice(0, most)
    .map((f) => f.cure);
}

/** How many of the missed demands are still missed, and the margin of the first. */
interface Look {
  readonly left: number;
  readonly margin: number | null;
}
const outward = (dx: number, grain: Grain): number =>
  Math.sign(dx) * Math.ceil(Math.abs(dx) / grain.grain - 1e-9) * grain.grain;

/** Changes of one dimension worth trying, the smallest first, and the relative size of the smallest; none when it has no effect. */
function guessesFor(
  x: number,
  grain: Grain,
  before: number,
  margin: number | null,
  at: (dx: number) => Look,
): { guesses: number[]; size: number }[] {
  const reach = grain.unit === 'deg' ? grain.least : Math.max(FARTHEST * Math.abs(x), grain.least);
  const guesses: number[] = [];
  if (margin === null) {
    // no figure to follow: a few steps to either side
    for (const share of [0.25, 1]) guesses.push(outward(share * reach, grain), outward(-share * reach, grain));
  } else {
    // one look tells the slope; the other side is taken to answer with the opposite sign, and every guess is tried anyhow
    const got = at(grain.slopeStep);
    if (got.left < before) guesses.push(grain.slopeStep);
    const slope = ((got.margin ?? Number.NaN) - margin) / grain.slopeStep;
    if (Math.abs(slope) > 0)
      for (const times of TRIES) {
        const dx = outward((-margin / slope) * times, grain);
        if (Math.abs(dx) <= reach) guesses.push(dx);
      }
  }
  if (guesses.length === 0) return [];
  guesses.sort((a, b) => Math.abs(a) - Math.abs(b));
  return [{ guesses, size: Math.abs(guesses[0]!) / Math.max(Math.abs(x), grain.least) }];
}

/** The smallest change that leaves fewer demands missed, to the grain; undefined when no guess does. */
function nearest(
  guesses: readonly number[],
  grain: Grain,
  before: number,
  left: (dx: number) => number,
): number | undefined {
  for (const dx of guesses) {
    if (left(dx) >= before) continue;
    let [bad, good] = [0, dx];
    while (Math.abs(good - bad) > 1.5 * grain.grain) {
      const mid = outward(bad + (good - bad) / 2, grain);
      if (mid === good || mid === bad) break;
      if (left(mid) < before) good = mid;
      else bad = mid;
    }
    return good;
  }
  return undefined;
}

/** How many cautions the candidate's own text has. */
function cautionsOf(w: Workspace, j: Judged): number {
  const [id, variant] = j.candidate.id.split('+') as [string, string | undefined];
  const document = w.project.documents.get(j.candidate.file)!;
  return resolveCandidate(document, { parts: w.project.parts, id, ...(variant ? { variant } : {}) }).problems.length;
}

/** Writes the edit into the candidate's text and judges what it then says. */
function prove(w: Workspace, j: Judged, k: number, value: number, unit: string, cautions: number): Cure | undefined {
  const { candidate } = j;
  const document = w.project.documents.get(candidate.file);
  const name = candidate.model.top.names.dimensions[k]!;
  if (!document) return undefined;
  const to = formatQuantity(value, unit, 6);
  const edit = setValue(document.source, ['dimensions', name], to);
  if (!('source' in edit)) return undefined;
  const read = readDocument(document.file, edit.source);
  const variant = candidate.id.split('+')[1];
  const resolved =
    read.document &&
    resolveCandidate(read.document, {
      parts: w.project.parts,
      id: candidate.id.split('+')[0]!,
      ...(variant ? { variant } : {}),
    });
  if (!resolved?.candidate) return undefined;
  // an edit that cures one thing and breaks another (a wheel off the ground, a cable too short) is no cure
  if (resolved.problems.length > cautions) return undefined;
  const again = judgeCandidate(
    w,
    resolved.candidate,
    ['drag', 'settle', 'ask'],
    new Set(w.brief.demands.map((d) => d.quantity)),
  );
  const missed = new Set(j.ledger.rows.filter((r) => r.kind === 'demand' && !r.holds).map((r) => r.quantity));
  return {
    dimension: name,
    from: candidate.slots[k]!.text,
    to,
    left: again.ledger.rows.filter((r) => r.kind === 'demand' && !r.holds).length,
    after: again.ledger.rows
      .filter((r) => r.kind === 'demand' && missed.has(r.quantity))
      .map(({ quantity, value: figure, unit: u, margin }) => ({ quantity, value: figure, unit: u, margin })),
  };
}
