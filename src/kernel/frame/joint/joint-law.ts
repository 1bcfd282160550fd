/**
 * The law of one joint component: force from motion, motion from force, and the straight branch in between.
 *
 * `JointLaw` is unfolded into at most five straight segments F = tangent·x + constant, from left to right:
 *   closed  faces pressed together, F = closed·x
 *   play    the free way: the force stays, the motion is lost
 *   beyond  past the play, the closed stiffness again
 *   open    the face has opened, the stiffness that is left
 * A preload P keeps the closed branch up to F = P on the side that opens; there the play (all of it on a joint that opens
 * to one side, half to each side otherwise) is passed at the force P. Without preload the joint stands in the middle of
 * its play: ±play/2. The force never falls with motion; it is continuous everywhere; motion is a jump where there is play.
 * Assumes that unloading follows the same line: no friction loop.
 * Source: tri-linear moment–rotation law of a joint with play, and the two slopes of a preloaded face; theory (bolted
 * joint diagram, e.g. VDI 2230 part 1).
 * Units: N and mm, or N·mm and rad. Not here: friction, wear (see ageing.ts), coupling between components.
 */
import type { JointLaw } from '../structure.ts';

export type Branch = 'closed' | 'play' | 'beyond' | 'open';

/** A straight part of the law: F = tangent·x + constant for from ≤ x ≤ to. */
export interface LawSegment {
  readonly branch: Branch;
  readonly from: number;
  readonly to: number;
  readonly tangent: number;
  readonly constant: number;
}

function refuseNumber(what: string, value: number): void {
  if (!(value >= 0 && value < Number.POSITIVE_INFINITY))
    throw new RangeError(`${what} of a joint law must be finite and not negative, not ${value}`);
}
function refuse({ closed, open = 0, preload = 0, play = 0 }: JointLaw): void {
  refuseNumber('closed', closed);
  refuseNumber('open', open);
  refuseNumber('preload', preload);
  refuseNumber('play', play);
}

/**
 * The straight segments from −∞ to +∞, in order of motion; neighbours share their end.
 * @throws RangeError for a stiffness, preload or play that is negative, infinite or NaN.
 */
export function lawSegments(law: JointLaw): readonly LawSegment[] {
  refuse(law);
  const { closed, open, preload = 0, play = 0 } = law;
  const opens = law.opens ?? 0;
  const all = (tangent: number, branch: Branch): LawSegment[] => [
    { branch, from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY, tangent, constant: 0 },
  ];
  if (closed === 0) return all(0, 'closed');
  if (open === undefined && play === 0) return all(closed, 'closed');
  // What comes after the closed branch (or after the middle of the play) on one side: the free way, then a stiffness.
  const side = (sign: 1 | -1) => {
    const mayOpen = opens === 0 || opens === sign;
    const yields = preload === 0 || mayOpen;
    const start = preload / closed;
    const free = preload === 0 ? play / 2 : opens === 0 ? play / 2 : play;
    const opening = mayOpen && open !== undefined;
    return {
      yields,
      start,
      free,
      branch: opening ? ('open' as const) : ('beyond' as const),
      k: opening ? open : closed,
    };
  };
  const [left, right] = [side(-1), side(1)];
  const out: LawSegment[] = [];
  if (left.yields) {
    const edge = 0 - left.start - left.free;
    const branch = left.branch === 'beyond' && left.start + left.free === 0 ? 'closed' : left.branch;
    out.push({
      branch,
      from: Number.NEGATIVE_INFINITY,
      to: edge,
      tangent: left.k,
      constant: -preload - left.k * edge,
    });
    if (preload > 0 && left.free > 0)
      out.push({ branch: 'play', from: edge, to: -left.start, tangent: 0, constant: -preload });
  }
  if (preload > 0)
    out.push({
      branch: 'closed',
      from: left.yields ? -left.start : Number.NEGATIVE_INFINITY,
      to: right.yields ? right.start : Number.POSITIVE_INFINITY,
      tangent: closed,
      constant: 0,
    });
  else if (play > 0) out.push({ branch: 'play', from: -play / 2, to: play / 2, tangent: 0, constant: 0 });
  if (right.yields) {
    const edge = right.start + right.free;
    if (preload > 0 && right.free > 0)
      out.push({ branch: 'play', from: right.start, to: edge, tangent: 0, constant: preload });
    const branch = right.branch === 'beyond' && edge === 0 ? 'closed' : right.branch;
    out.push({
      branch,
      from: edge,
      to: Number.POSITIVE_INFINITY,
      tangent: right.k,
      constant: preload - right.k * edge,
    });
  }
  return out;
}

/** Whether the law is its closed stiffness and nothing else: no contact iteration needed. */
export const isLinearLaw = (law: JointLaw): boolean =>
  law.open === undefined && law.play === undefined
    ? law.closed >= 0
    : lawSegments(law).every((s) => s.tangent === law.closed && s.constant === 0);

/** Index of the segment that holds the motion `x`; at a shared end the one nearer to rest. */
export function segmentAt(segments: readonly LawSegment[], x: number): number {
  for (let i = 0; i < segments.length; i++) if (x < segments[i]!.to || (x === segments[i]!.to && x >= 0)) return i;
  return segments.length - 1;
}

/** Force (N, N·mm) that the joint answers to the motion `x` (mm, rad). */
export function lawForce(law: JointLaw, x: number): number {
  const segments = lawSegments(law);
  const s = segments[segmentAt(segments, x)]!;
  return s.tangent * x + s.constant;
}

/** Motion under the force `f`; in the play the end nearer to rest; ±Infinity where nothing resists. */
export function lawMotion(law: JointLaw, f: number): number {
  const segments = lawSegments(law);
  if (f === 0) return 0;
  const sign = f > 0 ? 1 : -1;
  // Walk outwards from rest; the first segment that reaches the force answers.
  const order = sign > 0 ? segments : [...segments].reverse();
  for (const s of order) {
    const far = sign > 0 ? s.to : s.from;
    if (far * sign <= 0 && Number.isFinite(far)) continue;
    if (s.tangent === 0) {
      if (s.constant * sign >= f * sign) return sign > 0 ? s.from : s.to;
      continue;
    }
    const x = (f - s.constant) / s.tangent;
    if (x * sign <= far * sign) return x;
  }
  return sign * Number.POSITIVE_INFINITY;
}

export interface LawSummary {
  /** Stiffness while closed, and after the face has opened (the same where it cannot open). */
  readonly closed: number;
  readonly open: number;
  /** Motion that is lost in the play, over the whole way. */
  readonly lostMotion: number;
  /** Force or moment that opens the face: the preload; 0 without one, Infinity where it cannot open. */
  readonly opensAt: number;
}

/** Both slopes, the lost motion and the moment that opens it. */
export function summariseLaw(law: JointLaw): LawSummary {
  refuse(law);
  const canOpen = law.open !== undefined || (law.play ?? 0) > 0;
  return {
    closed: law.closed,
    open: law.open ?? law.closed,
    lostMotion: law.play ?? 0,
    opensAt: canOpen ? (law.preload ?? 0) : Number.POSITIVE_INFINITY,
  };
}
