/**
 * Where hands take hold of a bicycle, how far they go with it, and what they feel.
 *
 * A segment of the fold is posed at `POSES` + 1 places; a point of a moving body draws its path through them. The load on the
 * hand is what it lifts, m·Σ|Δz|/s, or what it sets moving, m·(S/s)², whichever is more: m, S and Σ|Δz| are mass, way and
 * changes of height of the moving bodies' centre of mass, s the way of the hand. A long lever makes both small.
 * Units SI. Not here: friction, springs and the force at each moment (`hands`).
 */
import type { FoldPlan, FoldSegment } from '../linkage/fold-plan.ts';
import { poseBodies } from '../linkage/index.ts';
import type { BodyMass } from '../mass/totals.ts';
import { at3, movePoint, norm, sub, type Vec3 } from '../math/rigid.ts';
import type { Model, State } from '../model/types.ts';

export interface PathOfMove {
  readonly segment: FoldSegment;
  /** Body motions at equal parts of the way, 12 per body. */
  readonly poses: readonly Float64Array[];
  /** Mass of the bodies that move, kg; way and changes of height of their centre of mass, m. */
  readonly mass: number;
  readonly way: number;
  readonly climb: number;
}
/** Half a turn in chords of 22.5°: 0.6 % short. */
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
    let mass = 0;
    bodies.forEach((b, i) => {
      if (segment.moving[i]) mass += b.mass;
    });
    let way = 0;
    let climb = 0;
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
      if (k > 0) {
        way += norm([x - x0, y - y0, z - z0]);
        climb += Math.abs(z - z0);
      }
      [x0, y0, z0] = [x, y, z];
    }
    return { segment, poses, mass, way, climb };
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

export interface GripPlace {
  readonly body: number;
  /** Ride posture, m. */
  readonly point: Vec3;
  readonly words: string;
}

/** Saddle, grips and wheels. */
export function usualGrips(m: Pick<Model, 'roles' | 'wheels' | 'top'>, s: State): readonly GripPlace[] {
  const { roles, wheels } = m;
  const out: GripPlace[] = [];
  const station = (i: number, body: number, words: string): void => {
    if (i >= 0 && body >= 0) out.push({ body, point: at3(s.station, 3 * i), words });
  };
  station(roles.saddle, roles.saddleBody, 'the saddle');
  station(roles.gripLeft, roles.gripBody, 'the left grip');
  station(roles.gripRight, roles.gripBody, 'the right grip');
  for (const [name, wheel] of [
    ['front', wheels.front],
    ['rear', wheels.rear],
  ] as const) {
    const [x, y, z] = at3(s.station, 3 * wheel.station);
    const r = s.value[wheel.radius]!;
    for (const [dx, dz, where] of [
      [0, r, 'top'],
      [r, 0, 'front'],
      [-r, 0, 'back'],
    ] as const)
      out.push({ body: wheel.body, point: [x + dx, y, z + dz], words: `the ${where} of the ${name} wheel` });
  }
  return out;
}

/** Ends and middles of the shapes of one body: what is left to hold where it has none of the usual places. */
export function shapeGrips({ top }: Pick<Model, 'top'>, s: State, body: number): readonly GripPlace[] {
  const words = `the ${top.names.bodies[body]!.replaceAll('_', ' ')}`;
  const out: GripPlace[] = [];
  const at = (point: Vec3): void => {
    out.push({ body, point, words });
  };
  for (let i = 0; i < top.shapeBody.length; i++) {
    if (top.shapeBody[i] !== body) continue;
    if (i < top.nCapsule) {
      at(at3(s.capsule, 7 * i));
      at(at3(s.capsule, 7 * i + 3));
    } else if (i < top.nCapsule + top.nDisc) at(at3(s.disc, 8 * (i - top.nCapsule)));
    else at(at3(s.box, 15 * (i - top.nCapsule - top.nDisc)));
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
export function handWay(path: PathOfMove, grip: GripPlace): HandWay {
  const o = 12 * grip.body;
  let before = movePoint(path.poses[0]!, o, grip.point);
  const start = before;
  let length = 0;
  for (let k = 1; k < path.poses.length; k++) {
    const here = movePoint(path.poses[k]!, o, grip.point);
    length += norm(sub(here, before));
    before = here;
  }
  const ratio = path.way / length;
  return { start, end: before, length, load: path.mass * Math.max(path.climb / length, ratio * ratio) };
}
