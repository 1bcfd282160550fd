/**
 * How a candidate's lock ages: the shelf's wear data and the candidate's own preload, play and face.
 *
 * Three runs: gentle, usual and hard use (low, typical and high ends of the shelf's ranges, contact areas the other way
 * round). The spread between them is wide, and honest: it says which lock to test first.
 * Source: kernel/frame/joint/ageing (Archard); coefficients default, from memory.
 */
import { ageLock, FOLDS, KIND, type LockAge, type LockWhenNew, type State, slides, type Wear } from '#kernel';
import { findPrinciple, type PrincipleWear, type ResolvedCandidate } from '#project';

export interface JointAgeing {
  readonly principle: string;
  /** A lock with an adjuster can be set back to its first preload; then only its play grows. */
  readonly readjustable: boolean;
  readonly gentle: readonly LockAge[];
  readonly usual: readonly LockAge[];
  readonly hard: readonly LockAge[];
}

const AREAS = new Set<keyof PrincipleWear>(['seatArea', 'bearingArea']);
function wearAt(w: PrincipleWear, end: 'low' | 'typical' | 'high'): Wear {
  const other = { low: 'high', typical: 'typical', high: 'low' } as const;
  const entries = (Object.keys(w) as (keyof PrincipleWear)[]).map((key) => [
    key,
    w[key][AREAS.has(key) ? other[end] : end],
  ]);
  return Object.fromEntries(entries) as unknown as Wear;
}

/**
 * Ages of joint `j` after each number of folds; undefined where the shelf knows no principle for it (steerer, cranks), or
 * where the file gives neither principle nor preload.
 * @param s filled. @param opening what riding asks of the face where it comes nearest to opening: arm of
 * the preload (mm; 1 for a pull) and moment (N·mm, N); unknown when left out.
 */
export function jointAgeing(
  candidate: ResolvedCandidate,
  s: State,
  j: number,
  opening?: { readonly arm: number; readonly moment: number },
  folds: readonly number[] = FOLDS,
): JointAgeing | undefined {
  const h = candidate.hardware[j]!;
  const principle = findPrinciple(h.basis);
  if (!principle || (h.preload < 0 && h.principle === '')) return undefined;
  const at = (slot: number, fallback: number): number => (slot < 0 ? fallback : s.value[slot]!);
  const [b, l] = h.face[0] < 0 ? principle.reference.map((x) => x / 1e3) : h.face.map((slot) => s.value[slot]!);
  const span = principle.span * 1e3 * Math.sqrt(b! * l!);
  const sliding = slides(KIND[Object.keys(KIND)[candidate.model.top.kind[j]!] as keyof typeof KIND]);
  const play = at(h.play, 0);
  const arm = h.opens.find((way) => way.arm >= 0)?.arm ?? -1;
  const lock: LockWhenNew = {
    preload: at(h.preload, 0),
    stack: at(h.stack, principle.stack.typical * 1e3) / 1e3,
    // A turning joint's play is an angle in the file: the clearance over its span.
    play: sliding ? play * 1e3 : play * span,
    span,
    arm: opening?.arm ?? at(arm, 0) * 1e3,
    serviceMoment: opening?.moment ?? Number.NaN,
  };
  const run = (end: 'low' | 'typical' | 'high') => ageLock(lock, wearAt(principle.wear, end), folds);
  return {
    principle: principle.name,
    readjustable: principle.readjustable,
    gentle: run('low'),
    usual: run('typical'),
    hard: run('high'),
  };
}
