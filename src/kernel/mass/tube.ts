/**
 * Mass, centre of mass and inertia of tubes: straight or bent, plain, butted or tapered, round, oval or rectangular.
 *
 * Method: each piece is integrated along its centre line with Gauss-Legendre quadrature, section spread included.
 * Outside sizes and wall vary linearly with the developed length, so along a straight piece every integrand is a
 * polynomial of degree 4 at most and three points (exact to degree 5) give the exact result. Arcs use eight points per
 * 90° at most: integrands are sines and cosines up to twice the angle times degree 4, error below 1e-14 of the result.
 * Bends: corners are rounded by `bendRadius`, setback T = R tan(A/2), arc R·A (the usual bend table). A cold bend keeps
 * the volume of every fibre (the outer wall thins as it stretches), so the mass per developed length is that of the
 * straight tube and stays centred on the centre line.
 * Source: theory. Units: SI or any consistent set.
 * Not here: mitres (ends are square, at the given points), weld metal, holes, the true ovality of a bend.
 */
import { add, cross, dot, norm, scale, sub, type Vec3 } from '../math/rigid.ts';
import type { RigidMass } from './rigid-mass.ts';
import { type SectionShape, sectionAxes, sectionSpread } from './section.ts';

/** Outside height × width and wall at the first end; `end…` where the far end differs. Round: height = width. */
export interface TubeSection {
  readonly shape: SectionShape;
  readonly height: number;
  readonly width: number;
  readonly wall: number;
  readonly endHeight?: number;
  readonly endWidth?: number;
  readonly endWall?: number;
}

/** One bend: the angle by which the direction changes (rad), setback on both sides and arc length. */
export interface Bend {
  readonly angle: number;
  readonly setback: number;
  readonly arc: number;
}
export interface Developed {
  /** Length along the centre line: straight pieces plus arcs. NaN when the bends do not fit. */
  readonly length: number;
  readonly straights: readonly number[];
  readonly bends: readonly Bend[];
  /** Index of the first straight piece that is too short for its bends, or whose ends coincide; -1 when all fit. */
  readonly tooShort: number;
}

/** Developed length of a path of corner points with one bend radius (0: sharp corners). */
export function developedLength(path: readonly Vec3[], bendRadius = 0): Developed {
  const straights: number[] = [];
  const bends: Bend[] = [];
  let tooShort = -1;
  let length = 0;
  let before = 0;
  for (let i = 0; i + 1 < path.length; i++) {
    const run = sub(path[i + 1]!, path[i]!);
    const span = norm(run);
    let after = 0;
    if (i + 2 < path.length) {
      const bend = bendBetween(run, sub(path[i + 2]!, path[i + 1]!), bendRadius);
      bends.push(bend);
      after = bend.setback;
      length += bend.arc;
    }
    const straight = span - before - after;
    if (tooShort < 0 && !(span > 0 && straight >= -SPAN_ROUNDING * span)) tooShort = i;
    straights.push(straight);
    length += straight;
    before = after;
  }
  return { length: tooShort < 0 && path.length > 1 ? length : Number.NaN, straights, bends, tooShort };
}

/**
 * A round straight tube of outside diameter `od` and wall between two points.
 * @throws RangeError where the tube has no length, or the wall is not in (0, od/2].
 */
export function tubeMass(od: number, wall: number, from: Vec3, to: Vec3, density: number): RigidMass {
  const out = memberMass({ shape: 'round', height: od, width: od, wall }, [from, to], 0, density);
  if (!Number.isFinite(out.mass)) throw new RangeError(`impossible tube: od ${od}, wall ${wall}, ${from} to ${to}`);
  return out;
}

/** Any tube along a path of corner points. Mass is NaN when it is impossible (wall, zero length, bends that do not fit). */
export function memberMass(
  section: TubeSection,
  path: readonly Vec3[],
  bendRadius: number,
  density: number,
): RigidMass {
  const out = new Float64Array(10);
  writeMemberMass(section, path, bendRadius, density, out, 0);
  return {
    mass: out[0]!,
    com: [out[1]!, out[2]!, out[3]!],
    inertia: [out[4]!, out[5]!, out[6]!, out[7]!, out[8]!, out[9]!],
  };
}

/** The same written as one mass element (10 numbers, see `State.mass`) at offset `o`. */
export function writeMemberMass(
  section: TubeSection,
  path: readonly Vec3[],
  bendRadius: number,
  density: number,
  out: Float64Array,
  o: number,
): void {
  const developed = developedLength(path, bendRadius);
  const total = developed.length;
  // Integrate about the middle of the chord: keeps the squares small, so little is lost when the CoM is subtracted.
  const last = path.length - 1;
  const origin: Vec3 = last > 0 ? scale(add(path[0]!, path[last]!), 0.5) : [0, 0, 0];
  const sum = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0];
  if (!(total > 0)) sum[0] = Number.NaN;
  let done = 0;
  let start = path[0] ?? origin;
  for (let i = 0; i < last && total > 0; i++) {
    const run = sub(path[i + 1]!, path[i]!);
    const along = scale(run, 1 / norm(run));
    const straight = developed.straights[i]!;
    start = sub(start, origin);
    for (let k = 0; k < 3; k++) {
      const s = straight * GAUSS3[2 * k]!;
      const weight = straight * GAUSS3[2 * k + 1]!;
      gather(section, (done + s) / total, add(start, scale(along, s)), along, density * weight, sum);
    }
    done += straight;
    const bend = developed.bends[i];
    if (!bend) break;
    start = add(path[i]!, scale(along, norm(run) - bend.setback));
    if (bend.arc > 0) {
      const next = sub(path[i + 2]!, path[i + 1]!);
      const inward = cross(cross(along, next), along);
      const normal = scale(inward, 1 / norm(inward));
      const centre = sub(add(start, scale(normal, bendRadius)), origin);
      const pieces = Math.ceil(bend.angle / (Math.PI / 2));
      const step = bend.angle / pieces;
      for (let p = 0; p < pieces; p++)
        for (let k = 0; k < 8; k++) {
          const a = step * (p + GAUSS8[2 * k]!);
          const c = Math.cos(a);
          const s = Math.sin(a);
          const tangent = add(scale(along, c), scale(normal, s));
          const at = add(centre, scale(sub(scale(along, s), scale(normal, c)), bendRadius));
          const weight = step * GAUSS8[2 * k + 1]! * bendRadius;
          gather(section, (done + bendRadius * a) / total, at, tangent, density * weight, sum);
        }
      done += bend.arc;
    }
    start = add(
      path[i + 1]!,
      scale(sub(path[i + 2]!, path[i + 1]!), bend.setback / norm(sub(path[i + 2]!, path[i + 1]!))),
    );
  }
  writeFromMoments(sum, origin, out, o);
}

/** Adds one slice: mass, first and second moments (xx yy zz xy xz yz) about the origin, section spread included. */
function gather(section: TubeSection, f: number, p: Vec3, along: Vec3, rhoLength: number, sum: number[]): void {
  const height = section.height + f * ((section.endHeight ?? section.height) - section.height);
  const width = section.width + f * ((section.endWidth ?? section.width) - section.width);
  const wall = section.wall + f * ((section.endWall ?? section.wall) - section.wall);
  const spread = sectionSpread(section.shape, height, width, wall);
  const { width: w, height: h } = sectionAxes(along);
  const m = rhoLength * spread.area;
  const mw = rhoLength * spread.alongWidth;
  const mh = rhoLength * spread.alongHeight;
  sum[0]! += m;
  for (let i = 0; i < 3; i++) {
    sum[1 + i]! += m * p[i]!;
    sum[4 + i]! += m * p[i]! * p[i]! + mw * w[i]! * w[i]! + mh * h[i]! * h[i]!;
  }
  sum[7]! += m * p[0] * p[1] + mw * w[0] * w[1] + mh * h[0] * h[1];
  sum[8]! += m * p[0] * p[2] + mw * w[0] * w[2] + mh * h[0] * h[2];
  sum[9]! += m * p[1] * p[2] + mw * w[1] * w[2] + mh * h[1] * h[2];
}

/** Moments about `origin` to mass, CoM and tensor about the CoM. */
function writeFromMoments(sum: readonly number[], origin: Vec3, out: Float64Array, o: number): void {
  const m = sum[0]!;
  const x = sum[1]! / m,
    y = sum[2]! / m,
    z = sum[3]! / m;
  const xx = sum[4]! - m * x * x,
    yy = sum[5]! - m * y * y,
    zz = sum[6]! - m * z * z;
  out[o] = m;
  out[o + 1] = origin[0] + x;
  out[o + 2] = origin[1] + y;
  out[o + 3] = origin[2] + z;
  out[o + 4] = yy + zz;
  out[o + 5] = xx + zz;
  out[o + 6] = xx + yy;
  out[o + 7] = m * x * y - sum[7]!;
  out[o + 8] = m * x * z - sum[8]!;
  out[o + 9] = m * y * z - sum[9]!;
}

function bendBetween(a: Vec3, b: Vec3, radius: number): Bend {
  // atan2 of sine and cosine keeps its digits near 0 and near a half-turn, where acos loses them.
  const angle = Math.atan2(norm(cross(a, b)), dot(a, b));
  if (!(radius > 0) || angle < STRAIGHT) return { angle, setback: 0, arc: 0 };
  return { angle, setback: radius * Math.tan(angle / 2), arc: radius * angle };
}

/** Under this angle a corner is a point on a straight line. */
const STRAIGHT = 1e-9;
/** A straight piece that is used up exactly by its setbacks may come out negative by rounding. */
const SPAN_ROUNDING = 1e-9;
/** Nodes and weights on [0, 1], alternating (Abramowitz & Stegun, table 25.4, mapped from [-1, 1]). */
const GAUSS3 = [0.5 - Math.sqrt(0.15), 5 / 18, 0.5, 4 / 9, 0.5 + Math.sqrt(0.15), 5 / 18];
const GAUSS8 = [
  [0.1834346424956498, 0.362683783378362],
  [0.525532409916329, 0.3137066458778873],
  [0.7966664774136267, 0.2223810344533745],
  [0.9602898564975363, 0.1012285362903763],
].flatMap(([x, w]) => [0.5 - x! / 2, w! / 2, 0.5 + x! / 2, w! / 2]);
