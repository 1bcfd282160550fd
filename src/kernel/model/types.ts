/**
 * The shapes of data that every discipline of the kernel reads.
 *
 * A candidate is resolved once into a `Model`: a `Topology`, which never changes while dimensions vary, and a `fill`
 * that writes everything dimension-dependent into a `State` owned by the caller. The same pair serves one sheet with
 * full workings and a million evaluations: typed arrays, flat data, indices instead of objects.
 *
 * Units: SI (m, rad, kg, N, s). Axes: ISO 8855, x forward, y left, z up, origin on the ground under the rear hub in the
 * ride posture. All geometry is given in the ride posture in world coordinates; every joint variable is 0 there
 * (product of exponentials), and body 0 is the root that stays put.
 *
 * A *slot* is an index into `State.value`: the value is known only after `fill`. -1 means "not given".
 */

/** What a joint lets its second body do relative to its first. A pin is a pivot that is absent once released. */
export const KIND = { pivot: 0, slide: 1, steerer: 2, post: 3, pin: 4 } as const;
/** What keeps a joint still while riding. */
export const HELD = { none: 0, latch: 1, clamp: 2, loop: 3 } as const;
export type KindName = keyof typeof KIND;
export type HeldName = keyof typeof HELD;
/** True for kinds that translate along their axis; the others rotate about it. */
export const slides = (kind: number): boolean => kind === KIND.slide || kind === KIND.post;

export interface Names {
  readonly dimensions: readonly string[];
  readonly stations: readonly string[];
  readonly bodies: readonly string[];
  readonly joints: readonly string[];
  /** One per shape, in shape order (capsules, then discs, then boxes): `rear.beam`, `front_wheel`, `main hardware`. */
  readonly shapes: readonly string[];
  /** One per mass element. */
  readonly masses: readonly string[];
}

export interface Topology {
  readonly names: Names;
  readonly bodyCount: number;
  /** Parent body of each body in the spanning tree; -1 for the root, body 0. */
  readonly parent: Int32Array;
  /** Joint that hangs each body on its parent; -1 for the root. */
  readonly parentJoint: Int32Array;
  /** Bodies, root first, parents before children. */
  readonly order: Int32Array;
  /** `KIND` of each joint. */
  readonly kind: Int32Array;
  /** `HELD` of each joint. */
  readonly held: Int32Array;
  /** First and second body of each joint; a positive joint value moves the second relative to the first. */
  readonly jointA: Int32Array;
  readonly jointB: Int32Array;
  /** Joints that close a loop over the tree (pins always; others where the tree does not need them). */
  readonly cuts: Int32Array;
  /** Shapes: indices 0..nCapsule-1 are capsules, then nDisc discs, then nBox boxes. */
  readonly nCapsule: number;
  readonly nDisc: number;
  readonly nBox: number;
  /** Body of each shape. */
  readonly shapeBody: Int32Array;
  /** 1 where a shape is joint hardware whose size is only estimated: the package is then an interval. */
  readonly shapeEstimated: Uint8Array;
  /**
   * Shape index pairs (2 per pair) that must not touch in the fold, exclusions and pairs at a common joint taken out: on
   * bodies that the fold can move against one another. Sorted by kinds, the lower index first.
   */
  readonly pairs: Int32Array;
  /** Pairs on different bodies that the fold never moves against one another: they must be clear in the ride posture. */
  readonly ridePairs: Int32Array;
  /** Pairs that turning cranks, or turning the handlebar, while riding can bring together; subsets of the two lists above. */
  readonly crankPairs: Int32Array;
  readonly steerPairs: Int32Array;
  /** Body and group of each mass element. */
  readonly massBody: Int32Array;
  readonly massGroup: readonly string[];
}

/** Everything that follows from the dimensions, and the posture. Owned by the caller; make one with `Model.newState()`. */
export interface State {
  /** Values of all slots: dimensions first (same order as `names.dimensions`), then everything computed from them. */
  readonly value: Float64Array;
  /** 3 per station, ride posture, m. */
  readonly station: Float64Array;
  /** 6 per joint: a point on the axis (m), the unit axis; ride posture. */
  readonly joint: Float64Array;
  /** 2 per joint: allowed range of the joint value, rad or m. */
  readonly range: Float64Array;
  /** 7 per capsule, ride posture: end p (3), end q (3), radius; m. */
  readonly capsule: Float64Array;
  /** 8 per disc, ride posture: centre (3), unit normal (3), radius, half thickness; m. A disc is a flat cylinder. */
  readonly disc: Float64Array;
  /** 15 per box, ride posture: centre (3), three unit axes (9, one after the other), half sizes (3); m. */
  readonly box: Float64Array;
  /** 10 per mass element, ride posture: mass, CoM (3), Ixx Iyy Izz Ixy Ixz Iyz about its own CoM as tensor elements (Ixy = −∫xy dm); kg, m, kg·m². */
  readonly mass: Float64Array;
  /** Joint values, rad or m. All 0 in the ride posture. */
  readonly q: Float64Array;
  /** 12 per body: row-major 3×4 [R | t], maps ride-posture world coordinates of the body to posed world coordinates. */
  readonly bodyT: Float64Array;
}

export type MoveKind = 'release' | 'turn' | 'slide' | 'lower' | 'lock';
export interface Move {
  readonly kind: MoveKind;
  readonly joint: number;
  /** Slot of the joint value at the end of the move (rad or m); -1 for release and lock. */
  readonly to: number;
}

/** Slots of a tube's cross-section; a butted tube has other end walls. Round: `width` = `height` = outside diameter. */
export interface SectionSlots {
  readonly shape: 'round' | 'oval' | 'rectangular';
  readonly height: number;
  readonly width: number;
  readonly wall: number;
  /** Slots for a tapered or butted tube's far end; -1 when uniform. */
  readonly endHeight: number;
  readonly endWidth: number;
  readonly endWall: number;
}
export interface Member {
  readonly name: string;
  readonly body: number;
  /** Stations from end to end, `via` points between them. */
  readonly path: readonly number[];
  readonly bendRadius: number;
  readonly section: SectionSlots;
  readonly material: string;
  /** Its ends are welded to what they meet: heat-affected zones and weld details apply. Bonded or bolted ends have neither. */
  readonly welded: boolean;
  /** Name of the fatigue detail category at its ends, where the file chooses one. */
  readonly detail?: string;
  /** State of a plastic (`dry`, `conditioned`, `long_term`), where the file chooses one. */
  readonly state?: string;
}

/** A lug, shell or plate: a box that members are tied to. */
export interface Block {
  readonly name: string;
  readonly body: number;
  /** Index of its box among the shapes. */
  readonly shape: number;
  readonly station: number;
  readonly material: string;
  readonly state?: string;
  /**
   * How it bears load from its station to the station `to`; rigid when absent. Slots of area, second moments against bending
   * seen from the side and from above, torsion constant; or a 6 × 6 stiffness at `to` with the station clamped, N, mm, rad,
   * axes along, height, and the third that completes the right-handed set.
   */
  readonly beam?: {
    readonly to: number;
    readonly section?: { readonly area: number; readonly side: number; readonly top: number; readonly twist: number };
    readonly stiffness?: readonly (readonly number[])[];
  };
}

/** Slots of one wheel: rolling (loaded) radius, outer (unloaded) radius, tyre width, mass, inertia about a diameter and about the axle. */
export interface Wheel {
  readonly station: number;
  readonly body: number;
  /** Index of its disc among the shapes. */
  readonly shape: number;
  readonly loadedRadius: number;
  readonly radius: number;
  readonly width: number;
  readonly mass: number;
  readonly diametral: number;
  readonly polar: number;
  /** Its mass element. */
  readonly massElement: number;
}

export interface Drive {
  readonly kind: 'chain' | 'belt' | 'hub_motor' | 'none';
  readonly fromBody: number;
  readonly toBody: number;
  readonly fromStation: number;
  readonly toStation: number;
  /** -1 right, +1 left. */
  readonly side: number;
  /** Slots of the teeth of chainring and sprocket; -1 if not given. */
  readonly ring: number;
  readonly sprocket: number;
  readonly releasable: boolean;
  /** Of a chain or belt. */
  readonly gearing?: Gearing;
  readonly motor?: DriveMotor;
}
/** What the file says about wheels, links and lines of a chain or belt. Slots are -1 where it says nothing. */
export interface Gearing {
  /** Teeth of several sprockets; empty for the one of the slot `Drive.sprocket`. */
  readonly sprockets: readonly number[];
  /** Turns of the wheel per turn of the sprocket; empty where the hub gear's are not known. */
  readonly ratios: readonly number[];
  /** Number of gears of the hub gear; 0 without one. */
  readonly hubGears: number;
  /** Links, or teeth of the belt; -1: to be found. */
  readonly pitches: number;
  /** Slots, m: chainring and sprockets' middle to the mid-plane, pitch of a belt, way of the hub to the rear, length that a tensioner takes up. */
  readonly chainline: number;
  readonly hubLine: number;
  readonly beltPitch: number;
  readonly adjust: number;
  readonly tensioner: number;
}
export interface DriveMotor {
  readonly place: 'hub' | 'cranks';
  readonly body: number;
  readonly station: number;
  /** Slots: continuous power (W), speeds at which assistance and walking help end (m/s), motor over rider. */
  readonly power: number;
  readonly assistsTo: number;
  readonly walksAt: number;
  readonly assist: number;
  readonly volts: number;
  readonly throttle: boolean;
  /** Slots: energy of each battery, Wh. */
  readonly batteries: readonly number[];
}

/** A cable from one body to another, along the bodies that it crosses in order. */
export interface Cable {
  readonly name: string;
  readonly bodies: readonly number[];
  /** Stations that the cable passes, ride posture, with the body that carries each. */
  readonly stations: readonly number[];
  readonly stationBody: readonly number[];
  /** Slots: spare length beyond the ride posture's path (m), least bend radius (m). */
  readonly slack: number;
  readonly minBend: number;
}

/** What keeps the folded package together. */
export interface Holder {
  readonly name: string;
  readonly kind: 'catch' | 'magnet' | 'strap' | 'friction' | 'latch';
  /** Bodies that it ties, and where (a station, carried by the first body, in the ride posture). */
  readonly bodies: readonly [number, number];
  readonly station: number;
  /** Slots: force at which it opens (N); friction torque at a joint (N·m) for `friction`. */
  readonly force: number;
  /** Joint whose friction holds; -1 for the others. */
  readonly joint: number;
}

/** Who and what the bicycle's points are: stations and the bodies that carry them; -1 where a candidate has none. */
export interface Roles {
  readonly rearHub: number;
  readonly frontHub: number;
  readonly crank: number;
  readonly saddle: number;
  readonly gripLeft: number;
  readonly gripRight: number;
  readonly crankBody: number;
  readonly cranksBody: number;
  readonly saddleBody: number;
  readonly gripBody: number;
  /** Joints: the steerer, the turning cranks, the seat post. */
  readonly steerer: number;
  readonly cranks: number;
  readonly seatPost: number;
}

/** Counts for `simple`: what a person must make, buy, adjust and see. */
export interface Counts {
  readonly customParts: number;
  readonly boughtParts: number;
  readonly fasteners: number;
  readonly adjustments: number;
  /** Hand actions of each joint's lock, one per joint (release and lock count separately). */
  readonly jointActions: readonly number[];
}

export interface Model {
  readonly top: Topology;
  /** Dimensions as the file gives them, SI. */
  readonly x: Float64Array;
  newState(): State;
  /**
   * Writes everything that follows from `x` into `s` and puts it in the ride posture (q = 0, all bodies at identity).
   * `instead`: values for slots that no other value follows from (walls of sections), in place of the file's, SI.
   */
  fill(x: Float64Array, s: State, instead?: ReadonlyMap<number, number>): void;
  readonly members: readonly Member[];
  readonly blocks: readonly Block[];
  /** One per body: heat-treated as a whole after welding, so that no zone beside a weld is weaker than the tube. */
  readonly heatTreated: readonly boolean[];
  readonly wheels: { readonly front: Wheel; readonly rear: Wheel };
  readonly roles: Roles;
  readonly drive: Drive;
  readonly cables: readonly Cable[];
  readonly fold: readonly Move[];
  readonly holders: readonly Holder[];
  readonly counts: Counts;
  /** 1-sigma relative uncertainty of each mass element. */
  readonly massSpread: Float64Array;
  /** Pedal: crank length slot; pedal half length; -1 if not given. */
  readonly crankLength: number;
  /** Shapes that the folded bicycle rests or rolls on: wheel bodies or castor shapes, named by the file; indices of shapes. */
  readonly rollsOn: readonly number[];
  readonly standsOn: readonly number[];
  /** Station (index) by which the folded bicycle is carried, and the body that holds it; -1 if none. */
  readonly handle: { readonly station: number; readonly body: number };
}
