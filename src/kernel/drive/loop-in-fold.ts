/**
 * What the fold does to a chain or belt whose two wheels lie on different bodies.
 *
 * In every posture the sprocket's centre is taken relative to the chainring: distance square to the ring's axle, offset along it, and
 * the angle between the two axles. The length that the loop then needs follows from these (`loop.ts`). A rider's chain is one length:
 * where more is needed it stops the fold or tears; where less is needed it hangs, and comes off.
 * Extremes: sampled along each move that parts the two bodies, then the least and the most are closed in on by thirds between
 * the neighbouring samples; one extreme between two samples is taken for granted (6° of a half turn: a point swinging at 0.4 m
 * cannot hide more than 0.3 mm there). Axles out of parallel beyond `TWISTED` twist the chain: the length is then a lower bound.
 * Not here: tensioners, guides round which it is laid, chains that hang.
 */
import { postureLike } from '../linkage/chain.ts';
import { type FoldPlan, type LinkageWorkspace, newLinkageWorkspace, poseAlong, poseFolded } from '../linkage/index.ts';
import { at3, cross, dot, movePoint, norm, sub, turnVector, type Vec3 } from '../math/rigid.ts';
import type { Model, State } from '../model/types.ts';
import { type LoopWheel, loopAround } from './loop.ts';

/** Axles out of parallel by more than this twist a chain, rad: 2°; default, from memory. */
export const TWISTED = (2 * Math.PI) / 180;
const SAMPLES = 30;
const THIRDS = 40;

/** Where the sprocket is, seen from the chainring. */
export interface LoopPlace {
  /** Index into `Model.fold` and how far through it; -1 and 0 for the ride posture. */
  readonly move: number;
  readonly fraction: number;
  readonly centres: number;
  /** Straight from centre to centre, out of line or not, m: what stretches the loop. */
  readonly reach: number;
  /** Along the ring's axle, from where it is while riding, m. */
  readonly shift: number;
  /** Between the axles, rad. */
  readonly angle: number;
  /** Length that the loop needs, m; NaN where the wheels overlap. */
  readonly need: number;
}
export interface LoopInFold {
  /** The fold parts the two wheels' bodies. */
  readonly moves: boolean;
  readonly ride: LoopPlace;
  readonly folded: LoopPlace;
  /** Over the whole fold, ends included. */
  readonly shortest: LoopPlace;
  readonly longest: LoopPlace;
  readonly twisted: boolean;
}

const Y: Vec3 = [0, 1, 0];

/** `s` must be filled and in the ride posture; it is left there. @throws RangeError for wheels that overlap while riding. */
export function loopInFold(
  m: Pick<Model, 'top' | 'drive' | 'fold'>,
  s: State,
  plan: FoldPlan,
  ring: LoopWheel,
  sprocket: LoopWheel,
  outOfLine = 0,
  ws: LinkageWorkspace = newLinkageWorkspace(m.top),
): LoopInFold {
  const { fromBody, toBody, fromStation, toStation } = m.drive;
  const from = at3(s.station, 3 * fromStation);
  const to = at3(s.station, 3 * toStation);
  const here = postureLike(s);
  const atRide = sub(to, from)[1];
  const place = (move: number, fraction: number): LoopPlace => {
    const t = here.bodyT;
    const d = sub(movePoint(t, 12 * toBody, to), movePoint(t, 12 * fromBody, from));
    const axle = turnVector(t, 12 * fromBody, Y);
    const other = turnVector(t, 12 * toBody, Y);
    const along = dot(d, axle);
    const centres = norm(cross(d, axle));
    const shift = along - atRide;
    const fits = centres >= ring.radius + sprocket.radius;
    return {
      move,
      fraction,
      centres,
      reach: Math.sqrt(centres * centres + shift * shift),
      shift,
      angle: Math.atan2(norm(cross(axle, other)), Math.abs(dot(axle, other))),
      need: fits ? loopAround(ring, sprocket, centres, shift + outOfLine).length : Number.NaN,
    };
  };
  const ride: LoopPlace = {
    move: -1,
    fraction: 0,
    centres: norm(cross(sub(to, from), Y)),
    reach: norm(cross(sub(to, from), Y)),
    shift: 0,
    angle: 0,
    need: loopAround(ring, sprocket, norm(cross(sub(to, from), Y)), outOfLine).length,
  };
  if (fromBody === toBody || plan.segments.length === 0)
    return { moves: false, ride, folded: ride, shortest: ride, longest: ride, twisted: false };

  let shortest = ride;
  let longest = ride;
  let twist = 0;
  let moves = false;
  plan.segments.forEach((segment, i) => {
    // Both bodies carried along together keep their distance.
    const parts = segment.moving[fromBody] !== segment.moving[toBody] || segment.kind === 'loop';
    if (!parts) return;
    moves = true;
    const at = (u: number): LoopPlace => {
      poseAlong(m, plan, i, u, here, ws);
      return place(segment.move, u);
    };
    const row = Array.from({ length: SAMPLES + 1 }, (_, k) => at((segment.reached * k) / SAMPLES));
    for (const p of row) twist = Math.max(twist, p.angle);
    const nearest = closeIn(row, at, -1);
    const farthest = closeIn(row, at, 1);
    if (nearest.reach < shortest.reach) shortest = nearest;
    if (farthest.reach > longest.reach) longest = farthest;
  });
  poseFolded(m, plan, here);
  const folded = place(plan.segments.at(-1)!.move, 1);
  return { moves, ride, folded, shortest, longest, twisted: Math.max(twist, folded.angle) > TWISTED };
}

/** The largest (sign 1) or smallest (−1) distance among the samples, then between its neighbours. */
function closeIn(row: readonly LoopPlace[], at: (u: number) => LoopPlace, sign: 1 | -1): LoopPlace {
  let k = 0;
  for (let i = 1; i < row.length; i++) if (sign * (row[i]!.reach - row[k]!.reach) > 0) k = i;
  let best = row[k]!;
  // At an end of the row the extreme is the end itself unless it still grows inward, which the neighbour would show.
  if (k === 0 || k === row.length - 1) return best;
  let low = row[k - 1]!.fraction;
  let high = row[k + 1]!.fraction;
  for (let i = 0; i < THIRDS; i++) {
    const a = at(low + (high - low) / 3);
    const b = at(high - (high - low) / 3);
    if (sign * (a.reach - b.reach) > 0) high = b.fraction;
    else low = a.fraction;
    const better = sign * (a.reach - b.reach) > 0 ? a : b;
    if (sign * (better.reach - best.reach) > 0) best = better;
  }
  return best;
}
