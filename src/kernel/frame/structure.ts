/**
 * The frame as a beam model: nodes, members, joints, supports and loads as plain data.
 *
 * Units of everything in `frame/`: mm, N, MPa, N·mm, rad; axes as everywhere (x forward, y left, z up). Six components
 * always come in the order x y z translations, then rotations about x y z; six end forces likewise.
 *
 * A member is one element whatever its shape: its pieces (straight, tapered, an arc cut into chords) are integrated into
 * one 6 × 6 flexibility, so that subdividing changes nothing and the system stays small. Between a node and the elastic
 * beginning of a member lies a rigid offset: hinge bodies, lugs, the half of a tube that another one is welded to.
 * Source: force-based (flexibility) formulation, theory; Przemieniecki 1968, Theory of Matrix Structural Analysis, ch. 5–6.
 * Not here: distributed loads, warping, large rotations.
 */
import type { Vec3 } from '../math/rigid.ts';

/** What a straight beam needs of its section: mm², mm⁴; `asy`, `asz` shear areas, Infinity for no shear deformation. */
export interface BeamSection {
  readonly area: number;
  /** Second moment that resists bending in the local x–z plane (moment about y). */
  readonly iy: number;
  /** Second moment that resists bending in the local x–y plane (moment about z). */
  readonly iz: number;
  /** Torsion constant. */
  readonly j: number;
  readonly asy: number;
  readonly asz: number;
}

/** A straight piece of a member's centre line. */
export interface Piece {
  readonly from: Vec3;
  readonly to: Vec3;
  /** Unit local y, square to the piece; local z completes the right-handed set. */
  readonly y: Vec3;
  readonly E: number;
  readonly G: number;
  /** Section at `from`; the same everywhere unless `end` is given. */
  readonly section: BeamSection;
  /** A tapered piece: section at a share t (0…1) of its length. Integrated by quadrature; must be smooth. */
  readonly at?: (t: number) => BeamSection;
}

/** Compliance added between a member's end and its node: the wall of the tube that it is welded to, or a given spring. */
export interface EndFlex {
  readonly end: 0 | 1;
  /** What it stands for, in words: `wall of seat_tube`. */
  readonly what: string;
  readonly axes: readonly [Vec3, Vec3, Vec3];
  /** mm/N along the three axes, rad/(N·mm) about them; 0 = rigid. */
  readonly compliance: readonly [number, number, number, number, number, number];
}

export interface BeamMember {
  readonly name: string;
  /** Node indices. */
  readonly from: number;
  readonly to: number;
  /** From end to end, each beginning where the one before ended; at least one. */
  readonly pieces: readonly Piece[];
  readonly flex: readonly EndFlex[];
  /**
   * A flexibility that was measured or comes from a finer model counts instead of that of its pieces: motion of the far end
   * (mm, rad) by force and moment there (N, N·mm) with the beginning held, 36 numbers row-major in these axes. The one piece
   * then only tells where the member runs, and its section what buckling takes it for.
   */
  readonly given?: { readonly axes: readonly [Vec3, Vec3, Vec3]; readonly flexibility: readonly number[] };
}

/**
 * How one component of a joint answers its force (N, N·mm) with motion (mm, rad).
 *
 * `closed`: stiffness while the faces are pressed together. Where the face can open, `open` is the stiffness that is left
 * (pin and latch alone), `opens` the sign of the force that opens it (+1, −1, or 0 for both) and `preload` the force up to
 * which the latch keeps it shut. `play` is the whole free way (±play/2) that a joint without preload has; with preload
 * the play is taken up and shows only once the face has opened.
 */
export interface JointLaw {
  readonly closed: number;
  readonly open?: number;
  readonly opens?: -1 | 0 | 1;
  readonly preload?: number;
  readonly play?: number;
}

/** Two nodes (or a node and the ground, −1) tied by six springs at one point, along and about three axes. */
export interface FrameJoint {
  readonly name: string;
  /** What it is: a joint of the bicycle, or something of the test fixture that holds it. */
  readonly role: 'joint' | 'fixture';
  readonly from: number;
  readonly to: number;
  readonly at: Vec3;
  /** Along the member, across it, along the joint's axis; orthonormal, right-handed. */
  readonly axes: readonly [Vec3, Vec3, Vec3];
  /** 0 = free. Translations along the three axes, then rotations about them. Positive: `to` moves relative to `from`. */
  readonly laws: readonly [JointLaw, JointLaw, JointLaw, JointLaw, JointLaw, JointLaw];
}

export interface FrameNode {
  readonly name: string;
  readonly at: Vec3;
}

export interface FrameStructure {
  readonly nodes: readonly FrameNode[];
  readonly members: readonly BeamMember[];
  readonly joints: readonly FrameJoint[];
}

/** Holds one component (0–5) of a node: rigid, or with a stiffness. */
export interface Support {
  readonly node: number;
  readonly component: number;
  readonly stiffness?: number;
}

/** Force and moment on a node; where `at` is given the force acts there, rigidly tied to the node. */
export interface NodeLoad {
  readonly node: number;
  readonly force: Vec3;
  readonly moment: Vec3;
  readonly at?: Vec3;
}

/** Load vectors that share their supports: one factorisation serves them all. */
export interface LoadGroup {
  readonly supports: readonly Support[];
  /** Fixture springs and locks added for this group (a steering lock, a tyre, a rig's link). */
  readonly fixtures: readonly FrameJoint[];
  readonly loads: readonly (readonly NodeLoad[])[];
}

/** One solved load vector. */
export interface FrameSolution {
  /** 6 per node. */
  readonly u: Float64Array;
  /** 12 per member, global axes: force and moment that act on the member at its first node, then at its second. */
  readonly end: Float64Array;
  /** 6 per joint, then 6 per fixture of the group, in the joint's axes: what `from` exerts on… `to` resists; positive with positive motion. */
  readonly joint: Float64Array;
  /** One per support of the group: force or moment of the support on the structure. */
  readonly reaction: Float64Array;
  /** |K u − f| over |f|, both as largest entries of the forces and of the moments over their own scale. */
  readonly residual: number;
}

/** The structure, or a part of it, can move: a node and the direction in which nothing holds it. */
export class Mechanism extends RangeError {
  readonly node: string;
  readonly direction: 'ux' | 'uy' | 'uz' | 'rx' | 'ry' | 'rz';
  constructor(node: string, direction: Mechanism['direction']) {
    const way = direction[0] === 'u' ? 'to move along' : 'to turn about';
    super(`the frame is not held: node ${node} is free ${way} ${direction[1]} (${direction})`);
    this.node = node;
    this.direction = direction;
  }
}
