/**
 * What a built-in part is: the shapes of its data.
 *
 * A definition turns parameter values (SI) into geometry and mass relative to the part's own point `at`, in bicycle axes
 * (x forward, y left, z up) in the ride posture. Masses are ranges: unless a candidate gives its own, they are defaults
 * from memory and shown as such. Prices are not here.
 */
import type { RigidMass, Vec3 } from '#kernel';

/** Where a part belongs in the mass table. */
export type PartGroup = 'wheels' | 'drive' | 'brakes' | 'steering' | 'seat' | 'fittings' | 'luggage';

export type PartKind =
  | 'wheel'
  | 'crankset'
  | 'pedal'
  | 'saddle'
  | 'handlebar'
  | 'stem'
  | 'bar_post'
  | 'seat_post'
  | 'hub_gear'
  | 'chain'
  | 'brake'
  | 'bearing'
  | 'mudguard'
  | 'rack'
  | 'castor'
  | 'bag'
  | 'fitting';

/** What a candidate may override, and in which kind of unit; `size` is three lengths x, y, z. */
export type ParameterKind = 'length' | 'mass' | 'count' | 'angle' | 'size' | 'vector' | 'direction' | 'side' | 'flag';
export type ParameterValue = number | Vec3 | 'left' | 'right' | boolean;
export interface Parameter {
  readonly kind: ParameterKind;
  /** Value when neither the name nor the candidate gives one; SI. */
  readonly fallback: ParameterValue;
  readonly meaning: string;
  /** Something on the same bicycle that fills it before the fallback does. */
  readonly context?: 'wheel_radius' | 'crank_length' | 'drive_run' | 'ring' | 'sprocket';
}
export type Overrides = Readonly<Record<string, ParameterValue>>;

/** Shapes relative to `at`. A disc is a flat cylinder. Box axes are orthonormal. */
export type PartShape =
  | { readonly kind: 'capsule'; readonly name: string; readonly from: Vec3; readonly to: Vec3; readonly radius: number }
  | {
      readonly kind: 'disc';
      readonly name: string;
      readonly centre: Vec3;
      readonly normal: Vec3;
      readonly radius: number;
      readonly halfThickness: number;
    }
  | {
      readonly kind: 'box';
      readonly name: string;
      readonly centre: Vec3;
      readonly axes: readonly [Vec3, Vec3, Vec3];
      readonly half: Vec3;
    };

/** kg. */
export interface MassRange {
  readonly low: number;
  readonly typical: number;
  readonly high: number;
}

export interface WheelFacts {
  readonly end: 'front' | 'rear';
  /** Bead-seat diameter and tyre width, m. */
  readonly bsd: number;
  readonly width: number;
  /** Outer radius unloaded, and rolling under load. */
  readonly radius: number;
  readonly loadedRadius: number;
  readonly polar: number;
  readonly diametral: number;
}
export interface CrankFacts {
  readonly length: number;
  /** Distance between the outer faces of the crank arms. */
  readonly tread: number;
  readonly chainline: number;
  readonly ring: number;
  readonly sprocket: number;
}
export interface PedalFacts {
  readonly side: 'left' | 'right';
  /** Centre of the pedal from the crank's centre, right crank forward. */
  readonly centre: Vec3;
  readonly half: Vec3;
  /** A folding pedal turns about this line; positive folds it up against the crank, `angle` rad when folded. */
  readonly pivot?: { readonly at: Vec3; readonly axis: Vec3; readonly angle: number };
}

/** A part ready for use: everything relative to its point. */
export interface PartSpec {
  readonly id: string;
  readonly kind: PartKind;
  readonly group: PartGroup;
  /** One line that a person reads. */
  readonly label: string;
  /** What the point `at` is on this part. */
  readonly at: string;
  readonly mass: MassRange;
  /** 1-sigma over typical: the range read as rectangular. */
  readonly massSpread: number;
  readonly source: string;
  /** Typical mass, CoM from `at`, inertia about the CoM. */
  readonly rigid: RigidMass;
  readonly shapes: readonly PartShape[];
  /** Separate screws, nuts and bands that mount it. */
  readonly fasteners: number;
  /** Hand actions to operate it when folding (a folding pedal: 1). */
  readonly handActions: number;
  /** Settings that a rider adjusts on it. */
  readonly adjustments: number;
  readonly parameters: Readonly<Record<string, Parameter>>;
  readonly wheel?: WheelFacts;
  readonly crank?: CrankFacts;
  readonly pedal?: PedalFacts;
  /** Centres of the grips from `at`. */
  readonly grips?: { readonly left: Vec3; readonly right: Vec3 };
  /** Number of gears of a hub gear. */
  readonly hubGears?: number;
  readonly motor?: MotorPlace;
  /** Energy of a battery, Wh. */
  readonly energy?: number;
}
/** What an electric motor turns: a wheel, or the cranks (and through them the chain and all gears). */
export type MotorPlace = 'hub' | 'cranks';

/** Typed access to the values of one part. */
export interface Values {
  num(name: string): number;
  vec(name: string): Vec3;
  side(): 'left' | 'right';
  flag(name: string): boolean;
}

/** What a definition makes of its values. Without `lumps` the mass is spread over the shapes by volume. */
export interface Built {
  readonly mass: MassRange;
  readonly shapes: readonly PartShape[];
  /** Where the mass sits, in any proportion: scaled to the typical mass. Inertia included. */
  readonly lumps?: readonly RigidMass[];
  readonly wheel?: WheelFacts;
  readonly crank?: CrankFacts;
  readonly pedal?: PedalFacts;
  readonly grips?: { readonly left: Vec3; readonly right: Vec3 };
  readonly hubGears?: number;
  readonly motor?: MotorPlace;
  readonly energy?: number;
}
export interface PartDefinition {
  readonly kind: PartKind;
  readonly group: PartGroup;
  readonly label: string;
  readonly at: string;
  /** Names offered as hints. */
  readonly names: readonly string[];
  /** Parameter values that a name carries; undefined when the name is not this part. */
  read(id: string): Overrides | undefined;
  readonly fasteners?: number;
  readonly handActions?: number;
  readonly adjustments?: number;
  readonly parameters: Readonly<Record<string, Parameter>>;
  build(v: Values): Built;
}
