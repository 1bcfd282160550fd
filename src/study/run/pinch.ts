/**
 * Pinch discipline: gaps that close on a finger along the moves, where the hands of the procedure are.
 *
 * Zones of a move: the place that moves the part; the locks released just before it and locked just after it, and that of the
 * joint itself; the saddle or bar where the other hand steadies a bicycle that no stand carries.
 */
import {
  add,
  at3,
  dot,
  type FoldPlan,
  fingerGaps,
  gapBetween,
  type HandZone,
  HELD,
  type HingeFace,
  KIND,
  newLinkageWorkspace,
  newPosedShapes,
  norm,
  type Pinch,
  type PosedShapes,
  poseShapes,
  type State,
  scale,
  sub,
  type Vec3,
} from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { FoldResult } from './fold.ts';
import type { HandsResult } from './hands.ts';

export interface PinchPlace extends Pinch {
  /** Energy with which the part runs there by itself, J. */
  readonly energy: number;
  /** Index into `Model.fold`. */
  readonly move: number;
}
export interface PinchResult {
  /** Tightest first. */
  readonly places: readonly PinchPlace[];
}

/** `s` must be filled and in the ride posture; it is left there. */
export function runPinch(candidate: ResolvedCandidate, s: State, fold: FoldResult, hands: HandsResult): PinchResult {
  const { model } = candidate;
  const { plan } = fold;
  const places = plan.segments.map((segment) => hands.moves.find((m) => m?.move === segment.move)?.place);
  const { zones, released } = zonesOf(candidate, s, plan, hands);
  const found = fingerGaps(
    model,
    s,
    plan,
    places,
    zones,
    facesOf(candidate, s),
    released,
    newLinkageWorkspace(model.top),
  );
  return {
    places: found
      .map((p) => {
        const { move } = plan.segments[p.segment]!;
        return { ...p, move, energy: hands.moves.find((m) => m?.move === move)?.[p.ways[0]!].runaway ?? 0 };
      })
      .sort((a, b) => a.gap - b.gap),
  };
}

/**
 * Edges of the faces of hinges that a hand locks. The face lies where the hardware is, if the file sets it beside the pin, else where
 * the two bodies touch at the joint; its edge half the face farther from the pin.
 */
function facesOf(candidate: ResolvedCandidate, s: State): HingeFace[] {
  const { top } = candidate.model;
  const posed = newPosedShapes(top);
  poseShapes(top, s, posed);
  return candidate.hardware.flatMap((h, joint): HingeFace[] => {
    const held = top.held[joint];
    if (top.kind[joint] !== KIND.pivot || (held !== HELD.latch && held !== HELD.clamp) || h.actions === 0) return [];
    const pin = at3(s.joint, 6 * joint);
    const axis = at3(s.joint, 6 * joint + 3);
    const beside = (p: Vec3): Vec3 => {
      const d = sub(p, pin);
      return sub(d, scale(axis, dot(d, axis)));
    };
    const face = [hardwareCentre(candidate, s, joint), touchOf(candidate, posed, joint)]
      .map((p) => (p ? beside(p) : undefined))
      .find((d) => d && norm(d) > BESIDE);
    // a pin in the middle of its face has no side on which it gapes
    if (!face) return [];
    const half = h.face[0] >= 0 ? s.value[h.face[0]]! / 2 : h.size ? s.value[h.size[1]]! / 2 : 0;
    return [{ joint, edge: add(pin, scale(face, 1 + half / norm(face))) }];
  });
}
/** Nearer to the pin than this is at the pin, m. */
const BESIDE = 0.001;

function hardwareCentre(candidate: ResolvedCandidate, s: State, joint: number): Vec3 | undefined {
  const { top } = candidate.model;
  const first = top.nCapsule + top.nDisc;
  const halves = candidate.paths.shapes.flatMap((path, i) =>
    path[0] === 'joints' && path[1] === top.names.joints[joint] ? [i - first] : [],
  );
  return halves.length ? middle(halves.map((k) => at3(s.box, 15 * k))) : undefined;
}

/** Middle of where shapes of the joint's two bodies touch in the ride posture. */
function touchOf(candidate: ResolvedCandidate, posed: PosedShapes, joint: number): Vec3 | undefined {
  const { top } = candidate.model;
  const bodies = [top.jointA[joint], top.jointB[joint]];
  const witness = new Float64Array(7);
  const points: Vec3[] = [];
  for (const { a, b } of candidate.excluded) {
    if (!bodies.includes(top.shapeBody[a]) || !bodies.includes(top.shapeBody[b])) continue;
    if (candidate.paths.shapes[a]![0] === 'joints' || candidate.paths.shapes[b]![0] === 'joints') continue;
    const [p, q] = a < b ? [a, b] : [b, a];
    if (gapBetween(posed, p, q, Infinity, witness) <= BESIDE)
      points.push(scale(add(at3(witness, 0), at3(witness, 3)), 0.5));
  }
  return points.length ? middle(points) : undefined;
}
const middle = (points: readonly Vec3[]): Vec3 =>
  scale(
    points.reduce((sum, p) => add(sum, p), [0, 0, 0] as Vec3),
    1 / points.length,
  );

/** Where hands are during each motion, and the joints released for it. */
function zonesOf(
  candidate: ResolvedCandidate,
  s: State,
  plan: FoldPlan,
  hands: HandsResult,
): { readonly zones: HandZone[][]; readonly released: number[][] } {
  const { model } = candidate;
  const { top, roles, fold } = model;
  const lockZone = (joint: number): HandZone => ({
    body: top.jointA[joint]!,
    point: at3(s.joint, 6 * joint),
    what: 'lock',
    joint,
  });
  /** Worked by a hand that is not the one that moves the part. */
  const worked = (joint: number): boolean => candidate.hardware[joint]!.actions > 0;
  const released = plan.segments.map(({ move }) => {
    const out: number[] = [];
    for (let k = move - 1; k >= 0 && fold[k]!.to < 0; k--) if (fold[k]!.kind === 'release') out.push(fold[k]!.joint);
    return out;
  });
  let standDown = false;
  const zones = plan.segments.map(({ move, moving }, i) => {
    const place = hands.moves.find((m) => m?.move === move)?.place;
    const out: HandZone[] = [];
    // a shoe is not pinched by 25 mm
    if (place && !place.foot) out.push({ body: place.body, point: place.point, what: 'moves', joint: -1 });
    const locked: number[] = [];
    for (let k = move + 1; k < fold.length && fold[k]!.to < 0; k++)
      if (fold[k]!.kind === 'lock') locked.push(fold[k]!.joint);
    for (const joint of new Set([...released[i]!, ...locked].filter(worked))) out.push(lockZone(joint));
    if (!standDown && place && !place.foot)
      for (const [station, body] of [
        [roles.saddle, roles.saddleBody],
        [roles.gripLeft, roles.gripBody],
      ] as const)
        if (station >= 0 && body >= 0 && moving[body] === 0) {
          out.push({ body, point: at3(s.station, 3 * station), what: 'steadies', joint: -1 });
          break;
        }
    standDown ||= place?.foot ?? false;
    return out;
  });
  return { zones, released };
}
