/**
 * What the builder reads of a bicycle: tubes, blocks and joints as the file draws them, in the ride posture.
 *
 * Units: mm, MPa, N·mm/rad. One list for everything that bears load, whether a tube of the file, a handlebar that came as a
 * bought part, or an axle that the file does not draw.
 */
import type { SectionShape } from '../../mass/section.ts';
import type { Numbers, Vec3 } from '../../math/rigid.ts';
import type { BeamSection, JointLaw } from '../structure.ts';

/** Outside sizes and wall at one end, mm; `height` is the size seen from the side. */
export interface TubeEnd {
  readonly height: number;
  readonly width: number;
  readonly wall: number;
}
export interface FrameTube {
  readonly name: string;
  readonly body: number;
  /** Corner points of the centre line. */
  readonly points: readonly Vec3[];
  readonly bendRadius: number;
  readonly shape: SectionShape;
  readonly ends: readonly [TubeEnd, TubeEnd];
  readonly E: number;
  readonly G: number;
  /** Fixed to its neighbours by welding: the wall of the other tube gives, and the metal beside the weld is weakened. */
  readonly welded: boolean;
  /**
   * A block that bears load from end to end by numbers of its file instead of a wall: its section (`ends` are then the sizes of
   * its envelope, whose edges are the fibres looked at), or the stiffness of its last end with the first clamped, 36 numbers
   * row-major, N, mm, rad, along, height and the third axis that completes the right-handed set. What meets a block given by
   * stiffness is tied to its nearer end.
   */
  readonly given?: { readonly section: BeamSection } | { readonly stiffness: readonly number[] };
}
/** A lug, shell or plate: rigid unless the file gives it a section of its own; members that reach it are tied to it. */
export interface FrameBlock {
  readonly name: string;
  readonly body: number;
  readonly centre: Vec3;
  readonly axes: readonly [Vec3, Vec3, Vec3];
  readonly half: Vec3;
}
export interface FrameHinge {
  readonly name: string;
  readonly kind: 'pivot' | 'slide' | 'steerer' | 'post' | 'pin';
  readonly bodies: readonly [number, number];
  /** Its point on the first and on the second body (the same in the ride posture). */
  readonly at: Vec3;
  readonly axis: Vec3;
  /** Middle of the hardware, where its springs act. */
  readonly centre: Vec3;
  /** Along the member, across it, along the axis (`jointFrame`). */
  readonly axes: readonly [Vec3, Vec3, Vec3];
  /** Members that end here are rigid for this length: the hardware stands in for them. */
  readonly cutOut: number;
  readonly laws: readonly [JointLaw, JointLaw, JointLaw, JointLaw, JointLaw, JointLaw];
}
/** What each joint does in this posture. */
export type HingeState = 'locked' | 'free' | 'absent';
export interface BodyPosture {
  /** 12 per body, as `State.bodyT` (SI). */
  readonly bodyT: Numbers;
  readonly hinges: readonly HingeState[];
}
