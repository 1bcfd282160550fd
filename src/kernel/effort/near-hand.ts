/**
 * The gap between two shapes as far as a hand reaches.
 *
 * Two long tubes may be nearest far from the hand and pinch it all the same. So capsules are cut to the part of their axis
 * inside the ball about the hand's place before the gap is taken; discs and boxes are taken whole, and between two of them only a
 * gap inside the ball counts. Units m. Not here: the hand's own shape.
 */
import { gapOf, shapeArray, shapeKind, shapeOffset } from '../envelope/gap.ts';
import type { PosedShapes } from '../envelope/posed-shapes.ts';

/** Two cut capsules; leaf scratch. */
const cut = [new Float64Array(7), new Float64Array(7)] as const;

/** Whether the bounds of shape `i` come within `radius` of the point at `o` of `centre`. */
export function reaches(posed: PosedShapes, i: number, centre: Float64Array, o: number, radius: number): boolean {
  let sum = 0;
  for (let c = 0; c < 3; c++) {
    const x = centre[o + c]!;
    const under = posed.bounds[6 * i + c]! - x;
    const over = x - posed.bounds[6 * i + 3 + c]!;
    const d = under > 0 ? under : over > 0 ? over : 0;
    sum += d * d;
  }
  return sum <= radius * radius;
}

/** Cuts the capsule at `i` of `from` to the ball; false where its axis does not pass through it. */
function cutToBall(
  from: Float64Array,
  i: number,
  centre: Float64Array,
  o: number,
  radius: number,
  to: Float64Array,
): boolean {
  let [dd, dm, mm] = [0, 0, 0];
  for (let c = 0; c < 3; c++) {
    const d = from[i + 3 + c]! - from[i + c]!;
    const m = from[i + c]! - centre[o + c]!;
    dd += d * d;
    dm += d * m;
    mm += m * m;
  }
  // the surface may reach in while the axis passes by
  const reach = radius + from[i + 6]!;
  const excess = mm - reach * reach;
  let [low, high] = [0, 1];
  if (dd > 0) {
    const root = dm * dm - dd * excess;
    if (root < 0) return false;
    low = Math.max(0, (-dm - Math.sqrt(root)) / dd);
    high = Math.min(1, (-dm + Math.sqrt(root)) / dd);
    if (low > high) return false;
  } else if (excess > 0) return false;
  for (let c = 0; c < 3; c++) {
    const d = from[i + 3 + c]! - from[i + c]!;
    to[c] = from[i + c]! + low * d;
    to[3 + c] = from[i + c]! + high * d;
  }
  to[6] = from[i + 6]!;
  return true;
}

/**
 * Gap of shapes `a` and `b` inside the ball about the point at `o` of `centre`; witnesses to `out` (7). Infinity where they have
 * none there, or none below `cutoff`.
 */
export function gapNear(
  posed: PosedShapes,
  a: number,
  b: number,
  centre: Float64Array,
  o: number,
  radius: number,
  cutoff: number,
  out: Float64Array,
): number {
  if (!reaches(posed, a, centre, o, radius) || !reaches(posed, b, centre, o, radius)) return Infinity;
  const kinds = [shapeKind(posed, a), shapeKind(posed, b)] as const;
  const arrays = [shapeArray(posed, kinds[0]), shapeArray(posed, kinds[1])];
  const offsets = [shapeOffset(posed, a), shapeOffset(posed, b)];
  [a, b].forEach((shape, n) => {
    if (shape >= posed.nCapsule) return;
    if (cutToBall(arrays[n]!, offsets[n]!, centre, o, radius, cut[n]!)) [arrays[n], offsets[n]] = [cut[n]!, 0];
    else offsets[n] = -1;
  });
  if (offsets[0]! < 0 || offsets[1]! < 0) return Infinity;
  const gap = gapOf(kinds[0], arrays[0]!, offsets[0]!, kinds[1], arrays[1]!, offsets[1]!, cutoff, out);
  if (!(gap < cutoff)) return Infinity;
  // a tube that was cut to the ball has its nearest point there
  if (a < posed.nCapsule || b < posed.nCapsule) return gap;
  let sum = 0;
  for (let c = 0; c < 3; c++) {
    const d = (out[c]! + out[3 + c]!) / 2 - centre[o + c]!;
    sum += d * d;
  }
  return sum <= radius * radius ? gap : Infinity;
}
