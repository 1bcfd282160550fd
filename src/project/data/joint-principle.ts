/**
 * What an entry of the joint shelf is, and how its numbers follow the size of the joint.
 *
 * The face is the section in which the joint parts: across (square to member and joint axis) × along the joint's axis; of
 * a post or slide the outer size of the tube that moves. Scaling is that of an elastic layer under the face, whose depth
 * grows with the face, s = √(b h): pull and shear ∝ b h/s, bending about the axis ∝ h b³/s, bending about the cross
 * direction ∝ b h³/s, twist ∝ b h (b² + h²)/s; so twice the size gives eight times the bending stiffness. Mass ∝ b h
 * (lengths and walls stay), price does not scale. Anchored at each principle's reference face.
 * Units of this table: mm, N, N/mm (kN/mm where said), kN·m/rad, kg, EUR, deg.
 */
import type { HeldName, KindName, LatchMechanism } from '#kernel';
import type { MassRange as Range } from './part-types.ts';

export type { MassRange as Range } from './part-types.ts';

export const SHELF_SOURCE = 'default, from memory';

export type StiffnessName = 'bendAcross' | 'bendAlong' | 'twist' | 'pull' | 'shearAcross' | 'shearAlong';

/** A component in which the face can open, and how. */
export interface OpeningWay {
  readonly component: 'bendAcross' | 'bendAlong' | 'pull';
  /** `fold`: towards the turned-open side of the joint's range; `both`; `apart`: when pulled. */
  readonly sense: 'fold' | 'both' | 'apart';
  /** Arm of the preload, as a share of the face across (bendAcross) or along the axis (bendAlong); 0 for pull. */
  readonly arm: number;
}

/** How wear attacks it: ranges in mm³/(N·m), mm, mm², N. */
export interface PrincipleWear {
  readonly seatWear: Range;
  readonly seatSlide: Range;
  readonly seatArea: Range;
  readonly bearingWear: Range;
  readonly bearingSlide: Range;
  readonly bearingForce: Range;
  readonly bearingArea: Range;
  /** Friction work by riding between two folds, N·m: about 2,000 load cycles × 1.5 kN × 0.01 mm of micro-slip. */
  readonly rideWork: Range;
  /** mm that settle in the first closings. */
  readonly settling: Range;
}

export interface JointPrinciple {
  readonly name: string;
  readonly words: string;
  readonly suits: readonly KindName[];
  readonly held: readonly HeldName[];
  /** mm: across the joint, along its axis. */
  readonly reference: readonly [number, number];
  /** Box = fixed mm + share of the face, in the order along the member (share of √(b h)), across, axis. */
  readonly envelope: readonly [readonly [number, number], readonly [number, number], readonly [number, number]];
  /** kN·m/rad and kN/mm at the reference face. A component that it leaves free is absent. */
  readonly stiffness: Readonly<Partial<Record<StiffnessName, Range>>>;
  readonly opens: readonly OpeningWay[];
  /** Share of the closed stiffness that is left when the face has opened. */
  readonly openShare: Range;
  /** Lever of the hand, mm; `tool` when a tool or the whole part takes its place. */
  readonly lever: Range;
  readonly hand: Range;
  readonly stack: Range;
  /** N/mm stack and mm lever → the mechanism; absent: nothing presses it together. */
  readonly mechanism?: (lever: number, stack: number) => LatchMechanism;
  readonly readjustable: boolean;
  /** Clearance as a length, mm, and the span over which it turns into an angle, as a share of the face's mean size. */
  readonly clearance: Range;
  readonly span: number;
  readonly actions: number;
  readonly secondCatch: string;
  /**
   * What the second catch does while the lock is not home: it stands off and shows it (sprung, or it cannot be set), it holds the
   * joint from opening nevertheless, or nothing. Judgement, to be tried on the part.
   */
  readonly halfShut: 'shows' | 'holds' | 'nothing';
  readonly mass: Range;
  readonly price: Range;
  readonly wear: PrincipleWear;
  readonly failures: readonly string[];
  readonly source: string;
}

/** Factor on a stiffness of a principle when its face is b × h (mm) instead of the reference. */
export function stiffnessScale(p: JointPrinciple, component: StiffnessName, b: number, h: number): number {
  const measure = (x: number, y: number): number => {
    const s = Math.sqrt(x * y);
    if (component === 'bendAcross') return (y * x * x * x) / s;
    if (component === 'bendAlong') return (x * y * y * y) / s;
    if (component === 'twist') return (x * y * (x * x + y * y)) / s;
    return s;
  };
  return measure(b, h) / measure(...p.reference);
}

/** Size of the hardware (mm) along the member, across it, along the axis, for a face of b × h. */
export const principleBox = (p: JointPrinciple, b: number, h: number): readonly [number, number, number] => {
  const [along, across, axis] = p.envelope;
  return [along[0] + along[1] * Math.sqrt(b * h), across[0] + across[1] * b, axis[0] + axis[1] * h];
};

/** kg for a face of b × h mm. */
export const principleMass = (p: JointPrinciple, b: number, h: number): number =>
  (p.mass.typical * b * h) / (p.reference[0] * p.reference[1]);

/** Free angle (rad) of a clearance over its span, from stop to stop. */
export const principlePlay = (p: JointPrinciple, b: number, h: number): number =>
  p.clearance.typical / (p.span * Math.sqrt(b * h));
