/**
 * How far a hand goes with a part of the bicycle, and what it feels.
 *
 * A segment of the fold is posed at `POSES` + 1 places; the hand's place draws its path through them. The load on the
 * hand is the force that the move asks for, F/g, or what it sets moving, m·(S/s)², whichever is more: m and S are mass and
 * way of the moving bodies' centre of mass, s the way of the hand. A long lever makes both small.
 * Units SI. Not here: where a hand takes hold (`hand-place`), the force itself (`move-force`).
 */
import type { FoldPlan, FoldSegment } from '../linkage/fold-plan.ts';
import { poseBodies } from '../linkage/index.ts';
import type { BodyMass } from '../mass/totals.ts';
import { STANDARD_GRAVITY } from '../math/constants.ts';
import { movePoint, norm, sub, type Vec3 } from '../math/rigid.ts';
import { type Model, type State, slides } from '../model/types.ts';

export interface PathOfMove {
  readonly segment: FoldSegment;
  /** Body motions at equal parts of the way, 12 per body. */
  readonly poses: readonly Float64Array[];
  /** Mass of the bodies that move, kg; way of their centre of mass, m. */
  readonly mass: number;
  readonly way: number;
  /** Arc over chord between two poses where everything turns about one fixed axis; 1 otherwise. */
  readonly arc: number;
}
/** Half a turn of a loop in chords of 22.5°: 0.6 % short. A turn about one axis is measured along its arc. */
const POSES = 8;

/** Every segment of the plan. `s` lends its dimensions; its posture is changed. */
export function pathsOfFold(
  m: Pick<Model, 'top'>,
  s: State,
  plan: FoldPlan,
  bodies: readonly BodyMass[],
): readonly PathOfMove[] {
  return plan.segments.map((segment) => {
    const poses = posesOf(m, s, segment);
    const turn = segment.kind === 'tree' && !slides(m.top.kind[segment.joint]!) ? segment.to - segment.from : 0;
    const half = turn / POSES / 2;
    const arc = half === 0 ? 1 : half / Math.sin(half);
    let mass = 0;
    bodies.forEach((b, i) => {
      if (segment.moving[i]) mass += b.mass;
    });
    let way = 0;
    let [x0, y0, z0] = [0, 0, 0];
    for (let k = 0; k < poses.length; k++) {
      const t = poses[k]!;
      let [x, y, z] = [0, 0, 0];
      for (let i = 0; i < bodies.length; i++) {
        const b = bodies[i]!;
        if (!segment.moving[i] || !(b.mass > 0)) continue;
        const [cx, cy, cz] = b.rigid.com;
        const share = b.mass / mass;
        const o = 12 * i;
        x += share * (t[o]! * cx + t[o + 1]! * cy + t[o + 2]! * cz + t[o + 3]!);
        y += share * (t[o + 4]! * cx + t[o + 5]! * cy + t[o + 6]! * cz + t[o + 7]!);
        z += share * (t[o + 8]! * cx + t[o + 9]! * cy + t[o + 10]! * cz + t[o + 11]!);
      }
      if (k > 0) way += norm([x - x0, y - y0, z - z0]);
      [x0, y0, z0] = [x, y, z];
    }
    return { segment, poses, mass, way: arc * way, arc };
  });
}

function posesOf({ top }: Pick<Model, 'top'>, s: State, segment: FoldSegment): readonly Float64Array[] {
  const n = top.kind.length;
  const { trace } = segment;
  const out: Float64Array[] = [];
  let knot = 0;
  for (let k = 0; k <= POSES; k++) {
    const u = (segment.reached * k) / POSES;
    if (trace) {
      // the knot nearest below: they lie at most 2.3° apart, and a hand's way needs no more
      while (knot + 1 < trace.u.length && trace.u[knot + 1]! <= u + 1e-12) knot++;
      s.q.set(trace.q.subarray(knot * n, (knot + 1) * n));
    } else {
      s.q.set(segment.startQ);
      s.q[segment.joint] = segment.from + (segment.to - segment.from) * u;
    }
    poseBodies(top, s);
    out.push(s.bodyT.slice());
  }
  return out;
}

/** A hand's way with a point of a moving body. */
export interface HandWay {
  readonly start: Vec3;
  readonly end: Vec3;
  /** m. */
  readonly length: number;
  /** kg, on all hands together. */
  readonly load: number;
}
/** `point` in the ride posture; `force`: the greatest that the move asks for, N. */
export function handWay(path: PathOfMove, body: number, point: Vec3, force: number): HandWay {
  const o = 12 * body;
  let before = movePoint(path.poses[0]!, o, point);
  const start = before;
  let length = 0;
  for (let k = 1; k < path.poses.length; k++) {
    const here = movePoint(path.poses[k]!, o, point);
    length += norm(sub(here, before));
    before = here;
  }
  length *= path.arc;
  const ratio = length > 0 ? path.way / length : 1;
  return { start, end: before, length, load: Math.max(force / STANDARD_GRAVITY, path.mass * ratio * ratio) };
}
