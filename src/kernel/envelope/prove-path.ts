/**
 * Clearance of the whole fold: every motion segment of a plan, every pair of shapes that moves relative to each other, the
 * least gap with a proven lower bound.
 *
 * What is proven: for a segment that moves one joint, no posture on the way has a smaller gap than `proven`, rounding of
 * 1e-7 m included (`pair-motion.ts`, `prove-least.ts`). For a segment that drives a loop, the same holds provided that no
 * follower speeds up inside a step by more than the halves of the step show (`loop-motion.ts`); where the mechanism is at a
 * dead point this fails, the segment is not `complete`, and its bounds are not to be relied on.
 * Pairs that keep still to each other during a segment are not in it: the start posture has them (`clash`). Pairs of one
 * body with itself are never checked.
 * Not here: bending, play, two joints moved at once, cables and clothes.
 */
import {
  type FoldPlan,
  type LinkageWorkspace,
  newLinkageWorkspace,
  type Posture,
  poseBodies,
} from '../linkage/index.ts';
import type { Vec3 } from '../math/rigid.ts';
import { movePoint, turnVector } from '../math/rigid.ts';
import { type Model, type State, slides, type Topology } from '../model/types.ts';
import type { ProofOptions, SegmentProof } from './clash-types.ts';
import { loopMotion } from './loop-motion.ts';
import { type PairMotion, type Screw, screwMotion } from './pair-motion.ts';
import { newPosedShapes, type PosedShapes, poseShapes } from './posed-shapes.ts';
import { proveLeast } from './prove-least.ts';

/** The line of tree joint `j` in the posture of `s`, with the sense in which a rising value moves the carried bodies. */
export function worldScrew(top: Topology, s: Posture, j: number): { readonly screw: Screw; readonly sense: 1 | -1 } {
  const child = top.parentJoint.indexOf(j);
  const o = 12 * top.parent[child]!;
  const p: Vec3 = [s.joint[6 * j]!, s.joint[6 * j + 1]!, s.joint[6 * j + 2]!];
  const a: Vec3 = [s.joint[6 * j + 3]!, s.joint[6 * j + 4]!, s.joint[6 * j + 5]!];
  return {
    screw: { point: movePoint(s.bodyT, o, p), axis: turnVector(s.bodyT, o, a), sliding: slides(top.kind[j]!) },
    sense: top.jointA[j] === top.parent[child] ? 1 : -1,
  };
}

/** One proof in the form that is reported. */
export function segmentProof(
  top: Topology,
  motion: PairMotion,
  what: { readonly move: number; readonly joint: number; readonly from: number; readonly to: number },
  options?: ProofOptions,
): SegmentProof {
  const { from, to } = what;
  const found = proveLeast(motion, top.shapeBody, (u) => from + (to - from) * u, options);
  return { ...what, least: found.byBodies[0], ...found };
}

/** A posture of its own that shares the shapes of `s`, with its posed shapes. */
function apart(m: Pick<Model, 'top'>, s: State): { here: State; posed: PosedShapes } {
  return { here: { ...s, q: s.q.slice(), bodyT: s.bodyT.slice() }, posed: newPosedShapes(m.top) };
}

/**
 * Proves the clearance of every segment of `plan` (from `planFold`) at the dimensions filled into `s`; `s` keeps its posture.
 * Per segment: least gap with bodies, shapes, points, joint value and proven bound, the same for every two bodies, the first
 * contact. About 1 ms per segment of one joint, a few ms per loop.
 */
export function provePath(
  m: Pick<Model, 'top'>,
  s: State,
  plan: FoldPlan,
  options?: ProofOptions,
  ws: LinkageWorkspace = newLinkageWorkspace(m.top),
): SegmentProof[] {
  const { top } = m;
  const { here, posed } = apart(m, s);
  return plan.segments.map((segment, i) => {
    const { move, joint, from, to } = segment;
    if (segment.kind === 'loop') {
      const reached = from + (to - from) * segment.reached;
      const motion = loopMotion(m, here, plan, i, ws);
      return segmentProof(top, motion, { move, joint, from, to: reached }, options);
    }
    here.q.set(segment.startQ);
    poseBodies(top, here);
    poseShapes(top, here, posed);
    const { screw, sense } = worldScrew(top, here, joint);
    const motion = screwMotion(top.pairs, top.shapeBody, segment.moving, posed, screw, sense * (to - from));
    return segmentProof(top, motion, { move, joint, from, to }, options);
  });
}

/** As a segment of one tree joint: from `from` to `to` with all other joints as in `s`. For sweeps. */
export function proveTurn(
  m: Pick<Model, 'top'>,
  s: State,
  joint: number,
  from: number,
  to: number,
  moving: Uint8Array,
  pairs: Int32Array = m.top.pairs,
  options?: ProofOptions,
): SegmentProof {
  const { top } = m;
  const { here, posed } = apart(m, s);
  here.q[joint] = from;
  poseBodies(top, here);
  poseShapes(top, here, posed);
  const { screw, sense } = worldScrew(top, here, joint);
  const motion = screwMotion(pairs, top.shapeBody, moving, posed, screw, sense * (to - from));
  return segmentProof(top, motion, { move: -1, joint, from, to }, options);
}
