/**
 * The places of a bicycle's beam model at which loads act and fixtures hold, and what else a load case asks about it.
 * Node indices of `FrameStructure`; −1 where the bicycle has none. Points and lengths in mm, masses in kg.
 */
import type { Vec3 } from '../math/rigid.ts';
import type { FrameStructure } from './structure.ts';

export interface Places {
  /** Middle of the rear and of the front axle. */
  readonly rearAxle: number;
  readonly frontAxle: number;
  /** Middle of the bottom bracket. */
  readonly crank: number;
  /** Top of the saddle's rails, where the post's clamp holds them; the load of `vertical` hangs on it. */
  readonly saddleClamp: number;
  /** Where the post leaves the frame (a node of the frame). */
  readonly postClamp: number;
  /** Middle of the bar where it is clamped; grips; ends of the bar. */
  readonly barClamp: number;
  readonly gripLeft: number;
  readonly gripRight: number;
  readonly barEndLeft: number;
  readonly barEndRight: number;
  /** Ends of the head tube (nodes of the frame). */
  readonly headTop: number;
  readonly headBottom: number;
  /** Fork crown (a node of the fork). */
  readonly crown: number;
  /** Where luggage hangs, where a hand lifts the bicycle. */
  readonly luggage: number;
  readonly handle: number;
}

/** A piece of the bicycle's own mass: kg at a point (mm), carried rigidly by a node. */
export interface Lump {
  readonly node: number;
  readonly mass: number;
  readonly at: Vec3;
}

/** What a load case reads of the bicycle besides its nodes. */
export interface FrameContext {
  readonly structure: FrameStructure;
  readonly places: Places;
  /** Unit vector up the steering axis, and up the seat post. */
  readonly steerAxis: Vec3;
  readonly postAxis: Vec3;
  /** Points in mm: saddle top, pedal centres with the cranks level (left, right), tyre contacts. */
  readonly saddle: Vec3;
  readonly crankLength: number;
  /** Half the distance between the pedals' middles. */
  readonly pedalOut: number;
  /** Pitch radii of chainring and sprocket, distance of the chain from the mid-plane (negative: right); NaN without a chain. */
  readonly ringRadius: number;
  readonly sprocketRadius: number;
  readonly chainline: number;
  /** Loaded radii, mm; tyre widths, mm. */
  readonly rearRadius: number;
  readonly frontRadius: number;
  readonly rearTyre: number;
  readonly frontTyre: number;
  readonly wheelbase: number;
  /** kg, and its centre of mass, mm: the bicycle as it stands, without rider and luggage. */
  readonly mass: number;
  readonly com: Vec3;
  /**
   * The same mass piece by piece, each on the nearest node of the body that carries it: weights and inertia forces of the
   * service cases act through them. They sum to `mass` with the centre `com`; wheels are lumps on their axles.
   */
  readonly lumps: readonly Lump[];
  /** Points on which the bicycle stands in this posture without its rider's help (folded: feet, wheels), mm, with the node that carries each; empty in the ride posture. */
  readonly stands: readonly { readonly node: number; readonly at: Vec3 }[];
  /** kg: heaviest rider (with clothing) and luggage. */
  readonly rider: number;
  readonly luggage: number;
  /** The luggage's own middle and the hand's place, mm, where they are not just at their nodes. */
  readonly luggageAt?: Vec3;
  readonly handleAt?: Vec3;
  /** Share of the seated rider on the saddle, both grips, both pedals: sums to 1. */
  readonly seated: readonly [number, number, number];
  /** Centre of mass of the seated rider, mm. */
  readonly riderCom: Vec3;
  /** Hands' joint: shoulders, mm, from where the arms push. */
  readonly shoulder: Vec3;
}
