/**
 * What would have to change: one named dimension of the file that, moved as little as possible, makes a candidate that
 * misses demands hold them all.
 *
 * For each free dimension the missed figure's slope gives a first guess; guesses of 1, 1.5, 2.5 and 4 times that step are
 * tried, rounded outwards to whole millimetres or half degrees. A cure is accepted only after the edited text itself has been
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

/** Cures of one candidate, whole ones first, then the smallest relative change; `most` at most. */
export function findCures(w: Workspace, j: Judged, most = 3): Cure[] {
  const misses = j.ledger.rows.filter((r) => r.kind === 'demand' && !r.holds);
  if (misses.length === 0) return [];
  const { candidate } = j;
  const demands = new Set(w.brief.demands.map((d) => d.quantity));
  const whole = plan(candidate, w.setting, w.reference, ['drag', 'settle', 'ask'], demands);
  const s: State = candidate.model.newState();
  const missesAt = (x: Float64Array): { left: number; worst: number } => {
    const rows = judge(w.brief, evaluate(whole, x, s)).rows.filter((r) => r.kind === 'demand' && !r.holds);
    const row = rows.find((r) => r.quantity === misses[0]!.quantity);
    return { left: rows.length, worst: row ? (row.margin ?? Number.NaN) : 0 };
  };
  const found: { cure: Cure; size: number }[] = [];
  for (const k of candidate.free) {
    const grain = grainOf(candidate.slots[k]!.dimension);
    if (!grain) continue;
    const x0 = candidate.model.x[k]!;
    const reach = grain.unit === 'deg' ? grain.least : Math.max(FARTHEST * Math.abs(x0), grain.least);
    const hit = nearest(candidate.model.x, k, grain, reach, misses.length, misses[0]!.margin, missesAt);
    if (hit === undefined) continue;
    const cure = prove(w, j, k, hit, grain.unit);
    if (cure && cure.left < misses.length)
      found.push({ cure, size: Math.abs(hit - x0) / Math.max(Math.abs(x0), grain.least) });
  }
  return found
    .sort((a, b) => a.cure.left - b.cure.left || a.size - b.size)
    .slice(0, most)
    .map((f) => f.cure);
}

/** The value of dimension `k` nearest to its own at which fewer demands are missed; undefined when none is found. */
function nearest(
  x0: Float64Array,
  k: number,
  grain: Grain,
  reach: number,
  before: number,
  margin: number | null,
  missesAt: (x: Float64Array) => { left: number; worst: number },
): number | undefined {
  const at = (dx: number) => {
    const x = x0.slice();
    x[k]! += dx;
    return missesAt(x);
  };
  const outward = (dx: number): number => Math.sign(dx) * Math.ceil(Math.abs(dx) / grain.grain - 1e-9) * grain.grain;
  const guesses: number[] = [];
  if (margin === null) {
    // no figure to follow: look a little to both sides
    for (const share of [0.1, 0.3, 0.6, 1]) guesses.push(outward(share * reach), -outward(share * reach));
  } else {
    const [up, down] = [at(grain.slopeStep), at(-grain.slopeStep)];
    for (const [step, got] of [
      [grain.slopeStep, up],
      [-grain.slopeStep, down],
    ] as const) {
      if (got.left < before) guesses.push(outward(step));
      const gain = (got.worst - margin) / Math.abs(step);
      if (!(gain > 0)) continue;
      for (const times of TRIES) {
        const dx = outward(Math.sign(step) * (-margin / gain) * times);
        if (Math.abs(dx) <= reach) guesses.push(dx);
      }
    }
  }
  guesses.sort((a, b) => Math.abs(a) - Math.abs(b));
  for (const dx of guesses) {
    if (at(dx).left >= before) continue;
    // between nothing and a hit that was guessed: halve down to the grain
    let [bad, good] = [0, dx];
    while (Math.abs(good - bad) > 1.5 * grain.grain) {
      const mid = outward(bad + (good - bad) / 2);
      if (mid === good || mid === bad) break;
      if (at(mid).left < before) good = mid;
      else bad = mid;
    }
    return x0[k]! + good;
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
function prove(w: Workspace, j: Judged, k: number, value: number, unit: string): Cure | undefined {
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
  if (resolved.problems.length > cautionsOf(w, j)) return undefined;
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
