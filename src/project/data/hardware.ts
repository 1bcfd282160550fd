/**
 * What a joint's hardware weighs and measures when a candidate does not say: defaults, from memory.
 *
 * Mass ranges: a main hinge with its latch 0.30-0.65 kg, every further joint 0.10-0.30 kg. Sizes are typical boxes along
 * the member, across it and along the joint's axis, and always `estimated`: the package becomes an interval.
 */
import type { HeldName, KindName, Vec3 } from '#kernel';
import { range } from './part-build.ts';
import type { MassRange } from './part-types.ts';

export interface JointHardware {
  readonly mass: MassRange;
  /** Along the member, across it, along the joint's axis; m. */
  readonly size: Vec3;
  /** Relative uncertainty of the size. */
  readonly estimated: number;
  readonly fasteners: number;
  /** Hand actions to release, and the hand force of the strongest of them (N). */
  readonly actions: number;
  readonly handForce: number;
  readonly source: string;
}

const SOURCE = 'default, from memory';
const ESTIMATED = 0.2;
const NONE: JointHardware = {
  mass: range(0, 0, 0),
  size: [0, 0, 0],
  estimated: 0,
  fasteners: 0,
  actions: 0,
  handForce: 0,
  source: SOURCE,
};

/** Defaults by kind of joint and by what holds it. A steerer has no hardware of its own: its headset is a part. */
export function jointHardware(kind: KindName, held: HeldName): JointHardware {
  if (kind === 'steerer') return NONE;
  const locked = held === 'latch' || held === 'clamp';
  const common = { estimated: ESTIMATED, source: SOURCE, actions: locked ? 1 : 0 };
  if (kind === 'post')
    return {
      ...common,
      mass: range(0.06, 0.1, 0.15),
      size: [0.05, 0.06, 0.035],
      fasteners: 2,
      handForce: locked ? 80 : 0,
    };
  if (kind === 'slide')
    return {
      ...common,
      mass: range(0.2, 0.35, 0.55),
      size: [0.08, 0.07, 0.07],
      fasteners: 4,
      handForce: locked ? 80 : 0,
    };
  if (held === 'latch')
    return { ...common, mass: range(0.3, 0.45, 0.65), size: [0.06, 0.045, 0.07], fasteners: 5, handForce: 60 };
  if (held === 'clamp')
    return { ...common, mass: range(0.2, 0.3, 0.45), size: [0.06, 0.045, 0.06], fasteners: 4, handForce: 80 };
  return { ...common, mass: range(0.1, 0.18, 0.3), size: [0.04, 0.04, 0.06], fasteners: 3, handForce: 0 };
}
