/**
 * Checks that a beam model's stresses leave out: walls that buckle, welds at tubes' ends, pins of hinges, clamps that slip.
 *
 * Each takes the forces that the beam model found (closed joints) to a formula of `check/`.
 *   wall   every stress point: compression and bending against the wall's own strength (`local-buckling.ts`)
 *   weld   welded ends of tubes: a fillet all round with a throat as thick as the wall (`weld-throat.ts`)
 *   pin    what parts the two halves, as a force on the pin: E = pull + |M about the pin|/a + k|M that tilts it|/l, with a the arm
 *          from pin to latch and l the pin's length; across, S = |shear| + k|twist|/l. k = 1 where a latch on the other flank
 *          takes its half, 2 for a bare pin. Faces pressed together with F leave the pin F + c E until they open (c: what share
 *          of the stiffness pin and latch are), then E: P = √(max(F + c E, E)² + S²). Faces carry pressure only; their friction
 *          and dogs are left out. Knuckles l/4, l/2, l/4 with the load even over them, so that a long pin bends more than one
 *          of many knuckles does (`pin.ts`): an upper bound.
 *   clamp  a flexible band that its bolt or cam pulls with F presses the halves together with 2 F (F on both sides of the post:
 *          `slitCollarForce` with the bolt no farther out than the post's surface); push and torque together (`clamp.ts`).
 * Sources: statics, and those of the formulas. Units: mm, N, MPa, N·mm.
 * Not here: partial penetration and plug welds, lugs (their shape is not in the file), hooks and levers, bar and stem clamps,
 * what the tube's end does inside a lug, prying.
 */
import type { BuiltFrame } from '../build/build-frame.ts';
import { lineOf } from '../build/line.ts';
import {
  clampHold,
  filletRing,
  type LocalBuckling,
  localBuckling,
  localBucklingUse,
  slipUse,
  slitCollarForce,
  type WeldStrength,
} from '../check/index.ts';
import { bendingStress } from '../section/index.ts';
import type { StressPoints } from './points.ts';
import type { CaseResult } from './run-case.ts';
import type { TubeStrength } from './strength.ts';

/** The worst place of one check under one case; index of the point −1 where nothing is checked. */
export interface WorstPlace {
  readonly use: number;
  readonly point: number;
  readonly state: number;
}
const NOWHERE: WorstPlace = { use: 0, point: -1, state: -1 };

/** Buckling strength of the wall at every stress point; undefined for bars and for sections whose walls are not known. */
export function wallStrengths(
  frame: BuiltFrame,
  set: StressPoints,
  strength: readonly TubeStrength[],
): readonly (LocalBuckling | undefined)[] {
  const known = new Map<string, LocalBuckling>();
  return set.points.map(({ tube, section, strength: yieldAt }) => {
    const { E, given } = frame.parts.tubes[tube]!;
    if (given || section.solid) return undefined;
    const key = [tube, section.height, section.width, section.wall, yieldAt].join('|');
    const found = known.get(key) ?? localBuckling(section, { E, nu: strength[tube]!.nu, yield: yieldAt });
    known.set(key, found);
    return found;
  });
}

/** Worst use of the walls' buckling strength; states that may bend the frame are left out. */
export function worstWall(c: CaseResult, set: StressPoints, walls: readonly (LocalBuckling | undefined)[]): WorstPlace {
  return worstOf(c, set, false, (i, forces, o) => {
    const wall = walls[i];
    if (!wall) return 0;
    const { section } = set.points[i]!;
    return localBucklingUse(wall, forces[o]! / section.area, bendingStress(section, forces[o + 4]!, forces[o + 5]!));
  });
}

/** Distances along a tube nearer than this are one place, mm. */
const SAME = 0.01;

/** Stress points at which a tube's own end is welded to something. */
export function endWelds(frame: BuiltFrame, set: StressPoints): readonly number[] {
  const { tubes } = frame.parts;
  const length = tubes.map((tube) => lineOf(tube).length);
  return set.points.flatMap(({ tube, s }, i) =>
    !tubes[tube]!.given &&
    frame.weldsOf[tube]!.some(
      (w) => (w.s < SAME && Math.abs(s - w.to) < SAME) || (w.s > length[tube]! - SAME && Math.abs(s - w.from) < SAME),
    )
      ? [i]
      : [],
  );
}

/** @param strength of the weld metal by tube; undefined where it is not known. */
export function worstWeld(
  c: CaseResult,
  set: StressPoints,
  ends: readonly number[],
  strength: readonly (WeldStrength | undefined)[],
): WorstPlace {
  const at = new Set(ends);
  return worstOf(c, set, true, (i, forces, o) => {
    const { tube, section } = set.points[i]!;
    const metal = strength[tube];
    if (!at.has(i) || !metal || section.solid) return 0;
    return filletRing(section, section.wall, forces.subarray(o, o + 6), metal).directional;
  });
}

function worstOf(
  c: CaseResult,
  set: StressPoints,
  breaking: boolean,
  use: (point: number, forces: Float64Array, offset: number) => number,
): WorstPlace {
  let worst = NOWHERE;
  const n = 6 * set.points.length;
  for (let state = 0; state < c.solutions.length; state++) {
    if (!breaking && c.loads.fracture?.includes(state)) continue;
    for (let point = 0; point < set.points.length; point++) {
      const found = use(point, c.forces, n * state + 6 * point);
      if (found > worst.use) worst = { use: found, point, state };
    }
  }
  return worst;
}

export interface HingePin {
  /** A latch on the other flank takes its half of what tilts the pin. */
  readonly latched: boolean;
  /** Between pin and latch; Infinity where the joint turns freely. */
  readonly arm: number;
  /** Length of the pin in its knuckles. */
  readonly length: number;
  /** With which the faces are pressed together; 0 where nothing presses. */
  readonly preload: number;
  /** Share of the closed stiffness that pin and latch are; 1 where no face helps. */
  readonly share: number;
}
export interface PinLoad {
  /** Force on the pin, square to it, N. */
  readonly load: number;
  /** What parts the halves, and what shears them, both as forces on the pin. */
  readonly apart: number;
  readonly across: number;
}

/** @param f forces of the joint: along the member, across, along the pin; moments about the three. `o` offset. */
export function pinLoad(pin: HingePin, f: ArrayLike<number>, o = 0): PinLoad {
  const couple = (pin.latched ? 1 : 2) / pin.length;
  const apart = Math.max(f[o]!, 0) + Math.abs(f[o + 5]!) / pin.arm + couple * Math.abs(f[o + 4]!);
  const across = Math.abs(f[o + 1]!) + couple * Math.abs(f[o + 3]!);
  // a face takes the push that presses the halves together; a bare pin takes it itself
  const pushed = pin.latched ? 0 : Math.max(-f[o]!, 0);
  const drawn = Math.max(pin.preload + pin.share * apart, apart) + pushed;
  return { load: Math.sqrt(drawn * drawn + across * across), apart, across };
}

export interface BandClamp {
  /** Pull of the bolt or cam, N. */
  readonly pull: number;
  readonly diameter: number;
  readonly length: number;
  readonly friction: number;
}
/** Use of the clamp's grip under a push along the post (N) and a torque about it (N·mm), by the lesser figures. */
export function bandSlip({ pull, diameter, length, friction }: BandClamp, push: number, torque: number): number {
  const force = slitCollarForce(pull, diameter / 2, diameter / 2);
  return slipUse(clampHold({ force, diameter, length, friction }), Math.abs(torque), Math.abs(push));
}
