/**
 * A chain or belt round two wheels: its length, the distance that a length asks for, wrap, slack.
 *
 * Open loop, wheels in one plane: with d = r₁ − r₂ and sin α = d/C
 *   L = 2 √(C² − d²) + k₁ (π + 2α) + k₂ (π − 2α),
 * r the radius at which the straight runs leave, k the length laid down per radian of wrap. A belt lies on its pitch circle:
 * r = k = pN/2π. A chain's pins lie on the corners of a polygon: r = p/(2 sin(π/N)) and k = pN/2π still, since a turn lays down N
 * pitches. Exact for the belt. A chain's own length swings as its wheels turn: taut round two polygons of 46 and 13 teeth it
 * needs 0.05 mm more or less than this, and 0.0003 mm more on average (verification/drive).
 * Wheels out of line by y: each run becomes √(C² − d² + y²), its bends are left out.
 * Sag of a slack run of chord a that is longer by e: f = √(3 a e/8), the flat parabola (theory).
 * Source: theory; the belt's closed form in any machine-elements handbook. SI. Not here: tensioners' own pulleys, elastic
 * stretch, the polygon's jerk.
 */
import { increasingRoot, type Root } from './root.ts';

/** Roller chain of bicycles, m: ½ inch (ISO 9633). */
export const CHAIN_PITCH = 0.0127;
/** Elongation at which a worn chain is changed; common practice, no source. */
export const CHAIN_WEAR = 0.0075;

/** Radius of a chain wheel's pins, m: p/(2 sin(π/N)). */
export const pitchRadius = (teeth: number): number => CHAIN_PITCH / (2 * Math.sin(Math.PI / teeth));

export interface LoopWheel {
  readonly radius: number;
  readonly perRadian: number;
}
export const chainWheel = (teeth: number): LoopWheel => ({
  radius: pitchRadius(teeth),
  perRadian: (CHAIN_PITCH * teeth) / (2 * Math.PI),
});
/** A toothed belt's wheel, by its pitch (m). */
export const beltWheel = (teeth: number, pitch: number): LoopWheel => pulley((pitch * teeth) / Math.PI);
/** By its pitch diameter, m. */
export const pulley = (diameter: number): LoopWheel => ({ radius: diameter / 2, perRadian: diameter / 2 });

export interface Loop {
  readonly length: number;
  /** One straight run, m. */
  readonly run: number;
  /** Wrap round the first and the second wheel, rad. */
  readonly wrap: readonly [number, number];
}

const insistWheels = (a: LoopWheel, b: LoopWheel): void => {
  for (const w of [a, b])
    if (!(w.radius > 0 && w.radius < Infinity && w.perRadian > 0))
      throw new RangeError(`a wheel of ${w.radius * 1000} mm carries no chain`);
};

/** @throws RangeError for a wheel without size, or wheels that overlap. */
export function loopAround(a: LoopWheel, b: LoopWheel, centres: number, outOfLine = 0): Loop {
  insistWheels(a, b);
  const d = a.radius - b.radius;
  if (!(centres >= a.radius + b.radius && centres < Infinity))
    throw new RangeError(
      `centres ${mm(centres)} apart: the wheels overlap, they need ${mm(a.radius + b.radius)} at least`,
    );
  const alpha = Math.asin(d / centres);
  const run = Math.sqrt(centres * centres - d * d + outOfLine * outOfLine);
  const wrap = [Math.PI + 2 * alpha, Math.PI - 2 * alpha] as const;
  return { length: 2 * run + a.perRadian * wrap[0] + b.perRadian * wrap[1], run, wrap };
}
const mm = (x: number): string => `${(x * 1000).toFixed(1)} mm`;

export interface Centres extends Omit<Root, 'x'> {
  readonly centres: number;
}
/** The distance of the wheels at which a loop of this length is taut. @throws RangeError where it is too short for the two. */
export function centresFor(a: LoopWheel, b: LoopWheel, length: number): Centres {
  const least = a.radius + b.radius;
  const shortest = loopAround(a, b, least).length;
  if (!(length >= shortest && length < Infinity))
    throw new RangeError(`a loop of ${mm(length)} is too short for these wheels: ${mm(shortest)} at least`);
  const { x, ...how } = increasingRoot((c) => loopAround(a, b, c).length - length, least, Math.max(length, least));
  return { centres: x, ...how };
}

/** Teeth that hold: N · wrap/2π. */
export const teethInMesh = (teeth: number, wrap: number): number => (teeth * wrap) / (2 * Math.PI);

/** Smallest count of pitches that reaches `length`: even for a chain, which ends in inner and outer links by turns. */
export function pitchesFor(length: number, pitch: number, even: boolean): number {
  // A length that is whole but for rounding is whole.
  const exact = length / pitch - 1e-9;
  return even ? 2 * Math.ceil(exact / 2) : Math.ceil(exact);
}

/** Sag of a run of this chord that is longer by `excess`, both m. */
export const sagOf = (chord: number, excess: number): number => Math.sqrt((3 * chord * Math.max(0, excess)) / 8);

/** Angle of the runs to the plane of the wheels, rad: wheels out of line by so much over the straight run. */
export const lineAngle = (outOfLine: number, run: number): number => Math.atan2(outOfLine, run);
