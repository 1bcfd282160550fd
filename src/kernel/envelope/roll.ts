/**
 * Rolling the folded package on its wheels: do the axles agree, what lies below the wheels, and how it leans in the hand.
 *
 * The floor is the plane that touches both wheels' circles and is parallel to their mean axle a: with normal n square to a,
 * (c1 − c2)·n = ρ1 − ρ2, ρ = R·√(1 − (m·n)²). The equation has two solutions, one on each side; the one nearer to `from`
 * counts. Two wheels one behind the other fix the floor (in line); wheels whose contacts lie across the travel (within 45°
 * of the axle) leave the pitch to the hand (side by side): the hand tips the package about the axles from the floor given by
 * `from`, as little as lifts everything else 15 mm off the floor, at most 45° either way (both from memory); in steps of 1°.
 * Rolls: axles parallel within 12° and nothing else below the common tangent (common practice, no source).
 * Tracking: the angle between the axles split into toe (about the floor's normal: the tyres scrub by its sine) and camber
 * (about the direction of travel).
 * Lean: the angle by which the package must be leaned so that its centre of mass is over the line through both contacts.
 * Not here: rolling resistance (coefficient 0.02–0.05 for small castors, from memory, is a few newtons), steering of a free
 * front wheel, castors that swivel (declare them among the shapes that may touch).
 */
import { add, cross, dot, norm, scale, sub, unit, type Vec3 } from '../math/rigid.ts';
import { type Solid, shapeCount, shapeSupport } from './solid.ts';

/** Largest angle between axles that still roll together, rad: 12°. Common practice, no source. */
export const AXLES_PARALLEL = (12 * Math.PI) / 180;

export interface RollingWheel {
  readonly shape: number;
  readonly centre: Vec3;
  readonly axle: Vec3;
  readonly radius: number;
}
export interface Rolling {
  readonly converged: boolean;
  readonly iterations: number;
  readonly residual: number;
  readonly reason:
    | 'rolls'
    | 'axles not parallel'
    | 'something below the wheels'
    | 'one wheel inside the other'
    | 'no floor';
  readonly rolls: boolean;
  readonly arrangement: 'in line' | 'side by side';
  /** How far the hand tips it about the axles, rad; 0 in line. */
  readonly tipped: number;
  /** Unit normal of the floor, direction of travel, package frame. */
  readonly up: Vec3;
  readonly travel: Vec3;
  readonly contacts: readonly [Vec3, Vec3];
  /** Angles between the axles, rad: in all, toe, camber. */
  readonly misalignment: number;
  readonly toe: number;
  readonly camber: number;
  /** Least height of anything but the wheels above the floor, m (negative: it drags), and which shape. */
  readonly clearance: number;
  readonly lowest: number;
  /** Distances between the contacts across and along the travel, m. */
  readonly track: number;
  readonly base: number;
  /** Lean to balance, rad, positive towards the left of the travel; NaN side by side. */
  readonly lean: number;
  /** Elevation of the handle seen from the middle of the contacts, rad, and its height above the floor, m; NaN without handle. */
  readonly pull: number;
  readonly handleHeight: number;
}

const STEPS = 50;
const STILL = 1e-12;

/** Wheel `shape` (a disc) of the solid. @throws RangeError when it is no disc. */
export function wheelOf(solid: Solid, shape: number): RollingWheel {
  const o = 8 * (shape - solid.capsule.length / 7);
  const d = solid.disc;
  if (!(o >= 0 && o + 8 <= d.length)) throw new RangeError(`shape ${shape} is not a disc and cannot roll`);
  return {
    shape,
    centre: [d[o]!, d[o + 1]!, d[o + 2]!],
    axle: [d[o + 3]!, d[o + 4]!, d[o + 5]!],
    radius: d[o + 6]!,
  };
}

/** Height to which everything else is lifted, and the farthest and the step by which a hand tips it to get there. */
const LIFTED = 0.015;
const TIP_MOST = 45;
const DEGREE = Math.PI / 180;

const tippedBy = (up: Vec3, axle: Vec3, angle: number): Vec3 =>
  add(scale(up, Math.cos(angle)), scale(cross(axle, up), Math.sin(angle)));

/** Contacts on a floor with normal `up`, and the lowest of the other shapes above it. */
function onFloor(
  solid: Solid,
  [w1, w2]: readonly [RollingWheel, RollingWheel],
  up: Vec3,
  others: readonly number[],
): { contacts: readonly [Vec3, Vec3]; floor: number; clearance: number; lowest: number } {
  const contacts: readonly [Vec3, Vec3] = [lowestOf(w1, up), lowestOf(w2, up)];
  const floor = Math.min(dot(contacts[0], up), dot(contacts[1], up));
  let clearance = Infinity;
  let lowest = -1;
  for (const i of others) {
    const h = dot(shapeSupport(solid, i, scale(up, -1)), up) - floor;
    if (h < clearance) {
      clearance = h;
      lowest = i;
    }
  }
  return { contacts, floor, clearance, lowest };
}

/** The smallest tip that lifts all others clear; the tip with the most clearance where none does. */
function leastTip(
  solid: Solid,
  wheels: readonly [RollingWheel, RollingWheel],
  axle: Vec3,
  up: Vec3,
  others: readonly number[],
): number {
  let best = { tip: 0, clearance: -Infinity };
  for (let degrees = 0; degrees <= TIP_MOST; degrees++)
    for (const tip of degrees === 0 ? [0] : [degrees * DEGREE, -degrees * DEGREE]) {
      const { clearance } = onFloor(solid, wheels, tippedBy(up, axle, tip), others);
      if (clearance >= LIFTED) return tip;
      if (clearance > best.clearance) best = { tip, clearance };
    }
  return best.tip;
}

/** Lowest point of a wheel's circle for the upward direction `up`: its middle plane, as tyres are round. */
function lowestOf(w: RollingWheel, up: Vec3): Vec3 {
  const radial = sub(up, scale(w.axle, dot(up, w.axle)));
  return sub(w.centre, scale(radial, w.radius / norm(radial)));
}

/**
 * How the package rolls on two wheels (discs of `solid`). `from` is the unit upward direction meant, `handle` the carrying
 * point, `spared` other shapes that may touch the floor (castors). Lengths in m, package frame.
 */
export function rolling(
  solid: Solid,
  com: Vec3,
  wheels: readonly [number, number],
  from: Vec3,
  handle: Vec3 | undefined,
  spared: readonly number[] = [],
  parallel: number = AXLES_PARALLEL,
): Rolling {
  const [w1, w2] = [wheelOf(solid, wheels[0]), wheelOf(solid, wheels[1])];
  const m2 = dot(w1.axle, w2.axle) < 0 ? scale(w2.axle, -1) : w2.axle;
  const a = unit(add(w1.axle, m2));
  const misalignment = Math.atan2(norm(cross(w1.axle, m2)), dot(w1.axle, m2));
  const level = sub(from, scale(a, dot(from, a)));
  const levelled = norm(level) > 1e-9;
  let up: Vec3 = levelled ? unit(level) : cross(a, Math.abs(a[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0]);
  const c = sub(w1.centre, w2.centre);
  const across = dot(c, a);
  const inPlane = sub(c, scale(a, across));
  const apart = norm(inPlane);
  const arrangement = Math.abs(across) > apart ? 'side by side' : 'in line';

  let iterations = 0;
  let residual = 0;
  let nested = false;
  if (arrangement === 'in line') {
    const e1 = scale(inPlane, 1 / apart);
    const e2 = cross(a, e1);
    const start = up;
    // ρ depends on n only through the axles' skew, so a few rounds settle it.
    for (residual = Infinity; iterations < STEPS && residual > STILL; iterations++) {
      const rho = (w: RollingWheel): number => {
        const k = dot(w.axle, up);
        return w.radius * Math.sqrt(Math.max(0, 1 - k * k));
      };
      const k = (rho(w1) - rho(w2)) / apart;
      if (Math.abs(k) >= 1) {
        nested = true;
        break;
      }
      const side = Math.sqrt(1 - k * k) * (dot(start, e2) < 0 ? -1 : 1);
      const next = add(scale(e1, k), scale(e2, side));
      residual = norm(sub(next, up));
      up = next;
    }
  }
  const others = Array.from({ length: shapeCount(solid) }, (_, i) => i).filter(
    (i) => i !== wheels[0] && i !== wheels[1] && !spared.includes(i),
  );
  let tipped = 0;
  if (arrangement === 'side by side' && levelled) {
    tipped = leastTip(solid, [w1, w2], a, up, others);
    up = tippedBy(up, a, tipped);
  }
  const { contacts, floor, clearance, lowest } = onFloor(solid, [w1, w2], up, others);
  let travel = cross(a, up);
  // Travel is the direction from the second wheel to the first where that means something: in line.
  if (arrangement === 'in line' && dot(travel, c) < 0) travel = scale(travel, -1);
  const left = cross(up, travel);

  const between = sub(contacts[0], contacts[1]);
  const middle = scale(add(contacts[0], contacts[1]), 0.5);
  let lean = Number.NaN;
  if (arrangement === 'in line') {
    const line = unit(between);
    const r = sub(com, middle);
    const sideways = unit(cross(up, line));
    // Looking along the line the centre of mass stands at angle atan(side/height) from upright: lean it back by as much.
    const towards = dot(sideways, left) < 0 ? -1 : 1;
    lean = -towards * Math.atan2(dot(r, sideways), dot(sub(r, scale(line, dot(r, line))), up));
  }
  const toHandle = handle ? sub(handle, middle) : undefined;
  const handleHeight = handle ? dot(handle, up) - floor : Number.NaN;
  const reason = nested
    ? 'one wheel inside the other'
    : !levelled && arrangement === 'side by side'
      ? 'no floor'
      : misalignment > parallel
        ? 'axles not parallel'
        : clearance < 0
          ? 'something below the wheels'
          : 'rolls';
  const skew = cross(w1.axle, m2);
  return {
    converged: !nested && residual <= STILL,
    iterations,
    residual,
    reason,
    rolls: reason === 'rolls',
    arrangement,
    tipped,
    up,
    travel,
    contacts,
    misalignment,
    toe: Math.asin(Math.max(-1, Math.min(1, dot(skew, up)))),
    camber: Math.asin(Math.max(-1, Math.min(1, dot(skew, travel)))),
    clearance,
    lowest,
    track: Math.abs(dot(between, left)),
    base: Math.abs(dot(between, travel)),
    lean,
    pull: toHandle ? Math.atan2(dot(toHandle, up), norm(sub(toHandle, scale(up, dot(toHandle, up))))) : Number.NaN,
    handleHeight,
  };
}
