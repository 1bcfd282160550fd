/**
 * Which pairs of shapes must not touch, and when they are looked at.
 *
 * Two shapes on different bodies are a pair unless the file excludes them, or they meet at a joint of their bodies (or at
 * two joints at one point): both come within reach of the joint and touch in the ride posture, so that the contact is the joint itself. The
 * reach is measured from the joint's point (pivots, pins) or from its axis (steerer, slide, post: tubes that run inside
 * one another), and the point of contact must lie there too. Cranks have no such right: a chainring that cuts a tube near
 * the bottom bracket is a fault. A chain or belt may touch crankset and rear wheel, which it drives.
 *
 * Every remaining pair is in `pairs` (its bodies can move against one another in the fold) or in `ridePairs` (they
 * cannot; one look in the ride posture says all). `crankPairs` and `steerPairs` are those that turning cranks and
 * handlebar while riding can bring together; each of these is also in one of the first two lists.
 */
import { at3, KIND, norm, type SolidShape, type State, shapeDistance, slides, sub, type Vec3 } from '#kernel';
import type { PartKind } from '../data/part-types.ts';
import type { Draft, ShapeDraft, ShapeKind } from './draft.ts';
import type { JointDraft } from './joints.ts';
import type { PartDraft } from './parts.ts';

export interface Pairs {
  readonly pairs: Int32Array;
  readonly ridePairs: Int32Array;
  readonly crankPairs: Int32Array;
  readonly steerPairs: Int32Array;
  /** Pairs left out, with the reason in words. */
  readonly excluded: readonly { readonly a: number; readonly b: number; readonly because: string }[];
}
export interface PairInput {
  readonly draft: Draft;
  /** Shapes in model order. */
  readonly shapes: readonly ShapeDraft[];
  readonly joints: readonly JointDraft[];
  readonly parts: readonly PartDraft[];
  /** The ride posture at the file's dimensions. */
  readonly state: State;
  readonly groups: Int32Array;
  readonly cranks: ReadonlySet<number>;
  readonly steered: ReadonlySet<number>;
  readonly exclusions: readonly {
    readonly a: ReadonlySet<number>;
    readonly b: ReadonlySet<number>;
    readonly because: string;
  }[];
}

/** Least reach around a joint, m: a member that ends at the joint with its tube wall beside the axis still meets it. */
const REACH = 0.06;
/** How far along its axis a telescoping or steering joint may touch, each way, m. */
const AXIS_LENGTH = 0.6;

/** Parts that no joint can have inside it: a caliper drawn into the head tube is a fault, not the steering. */
const BOLTED_ON: ReadonlySet<PartKind> = new Set(['brake', 'mudguard']);

const KIND_ORDER: Record<ShapeKind, number> = { capsule: 0, disc: 1, box: 2 };

export function findPairs(input: PairInput): Pairs {
  const { shapes, joints, groups, cranks, steered, exclusions } = input;
  const excluded: { a: number; b: number; because: string }[] = [];
  const lists = { pairs: [] as number[], ride: [] as number[], crank: [] as number[], steer: [] as number[] };
  const bolted = new Set(input.parts.filter((p) => BOLTED_ON.has(p.spec.kind)).flatMap((p) => p.shapes));
  const near = joints.map((joint, j) => shapes.map((s) => !bolted.has(s) && nearJoint(input, joint, j, s)));
  const drives = new Set(input.parts.filter((p) => p.spec.kind === 'chain').flatMap((p) => p.shapes));
  const driven = new Set(
    input.parts
      .filter((p) => p.spec.kind === 'crankset' || p.spec.wheel?.end === 'rear' || p.spec.kind === 'hub_gear')
      .flatMap((p) => p.shapes),
  );
  for (let a = 0; a < shapes.length; a++)
    for (let b = a + 1; b < shapes.length; b++) {
      const [sa, sb] = [shapes[a]!, shapes[b]!];
      if (sa.body === sb.body) continue;
      const because =
        exclusions.find((e) => (e.a.has(a) && e.b.has(b)) || (e.a.has(b) && e.b.has(a)))?.because ??
        ((drives.has(sa) && driven.has(sb)) || (drives.has(sb) && driven.has(sa))
          ? 'the drive runs on it'
          : undefined) ??
        meetAtJoint(input, a, b, near);
      if (because !== undefined) {
        excluded.push({ a, b, because });
        continue;
      }
      (groups[sa.body] === groups[sb.body] ? lists.ride : lists.pairs).push(a, b);
      if (cranks.has(sa.body) !== cranks.has(sb.body)) lists.crank.push(a, b);
      if (steered.has(sa.body) !== steered.has(sb.body)) lists.steer.push(a, b);
    }
  const sorted = (list: readonly number[]) => sortByKinds(list, shapes);
  return {
    pairs: sorted(lists.pairs),
    ridePairs: sorted(lists.ride),
    crankPairs: sorted(lists.crank),
    steerPairs: sorted(lists.steer),
    excluded,
  };
}

/** Capsule with capsule, disc, box; disc with disc, box; box with box: the kernel's loops then stay on one routine. */
function sortByKinds(list: readonly number[], shapes: readonly ShapeDraft[]): Int32Array {
  const kind = shapes.map((s) => KIND_ORDER[s.kind]);
  const buckets: number[][] = Array.from({ length: 9 }, () => []);
  for (let i = 0; i < list.length; i += 2)
    buckets[3 * kind[list[i]!]! + kind[list[i + 1]!]!]!.push(list[i]!, list[i + 1]!);
  return Int32Array.from(buckets.flat());
}

function meetAtJoint(input: PairInput, a: number, b: number, near: readonly boolean[][]): string | undefined {
  const { shapes, joints, state } = input;
  const [sa, sb] = [shapes[a]!, shapes[b]!];
  for (let j = 0; j < joints.length; j++) {
    const joint = joints[j]!;
    if (!near[j]![a] || !near[j]![b]) continue;
    const { distance, points } = shapeDistance(shapeOf(state, sa), shapeOf(state, sb));
    if (distance > 0) continue;
    const contact: SolidShape = { kind: 'capsule', from: points[0], to: points[0], radius: 0 };
    if (!(shapeDistance(contact, placeOf(input, joint, j)).distance > 0)) return `they meet at the joint ${joint.name}`;
  }
  return undefined;
}

/** A shape of the state as a record. */
export function shapeOf(s: State, { kind, local }: ShapeDraft): SolidShape {
  if (kind === 'capsule') {
    const o = 7 * local;
    return { kind, from: at3(s.capsule, o), to: at3(s.capsule, o + 3), radius: s.capsule[o + 6]! };
  }
  if (kind === 'disc') {
    const o = 8 * local;
    return {
      kind,
      centre: at3(s.disc, o),
      normal: at3(s.disc, o + 3),
      radius: s.disc[o + 6]!,
      halfThickness: s.disc[o + 7]!,
    };
  }
  const o = 15 * local;
  const axes = [at3(s.box, o + 3), at3(s.box, o + 6), at3(s.box, o + 9)] as const;
  return { kind, centre: at3(s.box, o), axes, half: at3(s.box, o + 12) };
}

/** The bodies that meet at joint j: its own, and those of other joints at the same point (three links on one pin). */
function bodiesAt(input: PairInput, j: number): ReadonlySet<number> {
  const { joint: out } = input.state;
  const p = at3(out, 6 * j);
  const found = new Set<number>();
  input.joints.forEach((other, k) => {
    if (other.name === 'cranks' || !(norm(sub(at3(out, 6 * k), p)) < SAME_POINT)) return;
    found.add(other.a).add(other.b);
  });
  return found;
}
/** Joints nearer than this are at one point, m. */
const SAME_POINT = 1e-3;

/** Where a contact counts as the joint's own: a ball about its point, or a cylinder about its axis. */
function placeOf(input: PairInput, joint: JointDraft, j: number): SolidShape {
  const { joint: out, value } = input.state;
  const radius = Math.max(REACH, joint.cutOut < 0 ? 0 : value[joint.cutOut]!);
  const along = slides(KIND[joint.kind]) || joint.kind === 'steerer' ? AXIS_LENGTH : 0;
  const p = at3(out, 6 * j);
  const axis = at3(out, 6 * j + 3);
  const end = (k: number): Vec3 => [p[0] + k * axis[0], p[1] + k * axis[1], p[2] + k * axis[2]];
  return { kind: 'capsule', from: end(-along), to: end(along), radius };
}

function nearJoint(input: PairInput, joint: JointDraft, j: number, shape: ShapeDraft): boolean {
  if (!bodiesAt(input, j).has(shape.body)) return false;
  // Nothing of a frame meets cranks at their axis by right: an arm or a ring that touches a tube is a fault.
  if (joint.name === 'cranks') return false;
  const place = placeOf(input, joint, j) as Extract<SolidShape, { kind: 'capsule' }>;
  // Tubes that run inside one another hold the axis itself; a tube beside it does not.
  const core = place.from.every((n, k) => n === place.to[k]) ? place : { ...place, radius: 0 };
  return !(shapeDistance(core, shapeOf(input.state, shape)).distance > 0);
}
