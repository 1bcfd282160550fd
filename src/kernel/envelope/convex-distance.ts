/**
 * Distance between two convex solids given by their support functions, with witness points and a proven lower bound.
 *
 * Method: Gilbert, Johnson, Keerthi, *A fast procedure for computing the distance between complex objects in
 * three-dimensional space*, IEEE J. Robotics and Automation 4(2), 1988: the point v of a growing and shrinking simplex of
 * A − B that is nearest to the origin. Closest points on simplices by Voronoi regions (C. Ericson, *Real-Time Collision
 * Detection*, 2005, 5.1.5–5.1.6); of a tetrahedron only its faces matter, the origin inside it means overlap.
 * Every support point w in direction −v gives the bound v·w/|v| ≤ distance ≤ |v|; the search stops when they agree to
 * the accuracy asked for (0.1 nm by default) or no longer improve. Round rims give slivers as simplices, whose rounding stops
 * the progress some micrometres early: the search then goes on from the best point alone. Exact support points are used, so rims of discs are circles, not polygons.
 * Not here: penetration depth (`overlap-depth.ts`), shapes other than segment, disc and box.
 */

/** By default upper and lower bound agree to this at the end, m. */
export const ACCURACY = 1e-10;
/** A round rim needs 8–25 steps; more means that rounding has stopped the progress. */
const STEPS = 200;
/** Fresh starts from the best point after rounding has stopped the progress. */
const RESTARTS = 8;
/** Shapes nearer than this touch, m. */
const TOUCH = 1e-11;

export const SHAPE = { capsule: 0, disc: 1, box: 2 } as const;

/** Coordinate k of the middle of a shape. */
export const middleOf = (kind: number, D: Float64Array, i: number, k: number): number =>
  kind === SHAPE.capsule ? 0.5 * (D[i + k]! + D[i + 3 + k]!) : D[i + k]!;

/**
 * Support point of a shape's core in direction (x, y, z), any length: the point farthest along it. The core of a capsule is
 * its segment, without the radius; discs and boxes are complete.
 */
export function supportPoint(
  kind: number,
  D: Float64Array,
  i: number,
  x: number,
  y: number,
  z: number,
  out: Float64Array,
  o: number,
): void {
  if (kind === SHAPE.capsule) {
    const k = (D[i + 3]! - D[i]!) * x + (D[i + 4]! - D[i + 1]!) * y + (D[i + 5]! - D[i + 2]!) * z > 0 ? i + 3 : i;
    out[o] = D[k]!;
    out[o + 1] = D[k + 1]!;
    out[o + 2] = D[k + 2]!;
  } else if (kind === SHAPE.disc) {
    const nx = D[i + 3]!,
      ny = D[i + 4]!,
      nz = D[i + 5]!;
    const s = x * nx + y * ny + z * nz;
    const h = s < 0 ? -D[i + 7]! : D[i + 7]!;
    let px = x - s * nx,
      py = y - s * ny,
      pz = z - s * nz;
    // Nearly along the axis the difference is all rounding and not square to it: taken out a second time.
    const again = px * nx + py * ny + pz * nz;
    px -= again * nx;
    py -= again * ny;
    pz -= again * nz;
    const p2 = px * px + py * py + pz * pz;
    // A direction along the axis has the whole face as support; its centre is one of the points.
    const k = p2 > 1e-28 * (x * x + y * y + z * z) ? D[i + 6]! / Math.sqrt(p2) : 0;
    out[o] = D[i]! + h * nx + k * px;
    out[o + 1] = D[i + 1]! + h * ny + k * py;
    out[o + 2] = D[i + 2]! + h * nz + k * pz;
  } else {
    let sx = D[i]!,
      sy = D[i + 1]!,
      sz = D[i + 2]!;
    for (let k = 0; k < 3; k++) {
      const a = i + 3 + 3 * k;
      const h = x * D[a]! + y * D[a + 1]! + z * D[a + 2]! < 0 ? -D[i + 12 + k]! : D[i + 12 + k]!;
      sx += h * D[a]!;
      sy += h * D[a + 1]!;
      sz += h * D[a + 2]!;
    }
    out[o] = sx;
    out[o + 1] = sy;
    out[o + 2] = sz;
  }
}

/** Simplex: 9 numbers per vertex: point of A − B, point of A, point of B. Leaf scratch of this module, never re-entered. */
const S = new Float64Array(36);
/** Weights of the vertices. */
const L = new Float64Array(4);
/** Best face of a tetrahedron: its vertices and weights. */
const face = new Int32Array(3);
const weight = new Float64Array(4);
let size = 0;

function copyVertex(from: Float64Array, i: number, to: Float64Array, j: number): void {
  for (let k = 0; k < 9; k++) to[9 * j + k] = from[9 * i + k]!;
}

/** Weights of the point of segment (a, b) nearest to the origin into L[0], L[1]. */
function onEdge(a: number, b: number): void {
  const ax = S[9 * a]!,
    ay = S[9 * a + 1]!,
    az = S[9 * a + 2]!;
  const dx = S[9 * b]! - ax,
    dy = S[9 * b + 1]! - ay,
    dz = S[9 * b + 2]! - az;
  const dd = dx * dx + dy * dy + dz * dz;
  let t = dd > 0 ? -(ax * dx + ay * dy + az * dz) / dd : 0;
  t = t < 0 ? 0 : t > 1 ? 1 : t;
  L[0] = 1 - t;
  L[1] = t;
}

/** Weights of the point of triangle (a, b, c) nearest to the origin into L[0..2]. */
function onTriangle(ia: number, ib: number, ic: number): void {
  const ax = S[9 * ia]!,
    ay = S[9 * ia + 1]!,
    az = S[9 * ia + 2]!,
    bx = S[9 * ib]!,
    by = S[9 * ib + 1]!,
    bz = S[9 * ib + 2]!,
    cx = S[9 * ic]!,
    cy = S[9 * ic + 1]!,
    cz = S[9 * ic + 2]!;
  const ux = bx - ax,
    uy = by - ay,
    uz = bz - az,
    vx = cx - ax,
    vy = cy - ay,
    vz = cz - az;
  const d1 = -(ux * ax + uy * ay + uz * az),
    d2 = -(vx * ax + vy * ay + vz * az);
  L[0] = 1;
  L[1] = 0;
  L[2] = 0;
  if (d1 <= 0 && d2 <= 0) return;
  const d3 = -(ux * bx + uy * by + uz * bz),
    d4 = -(vx * bx + vy * by + vz * bz);
  if (d3 >= 0 && d4 <= d3) {
    L[0] = 0;
    L[1] = 1;
    return;
  }
  const vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) {
    const t = d1 / (d1 - d3);
    L[0] = 1 - t;
    L[1] = t;
    return;
  }
  const d5 = -(ux * cx + uy * cy + uz * cz),
    d6 = -(vx * cx + vy * cy + vz * cz);
  if (d6 >= 0 && d5 <= d6) {
    L[0] = 0;
    L[2] = 1;
    return;
  }
  const vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) {
    const t = d2 / (d2 - d6);
    L[0] = 1 - t;
    L[2] = t;
    return;
  }
  const va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    const t = (d4 - d3) / (d4 - d3 + (d5 - d6));
    L[0] = 0;
    L[1] = 1 - t;
    L[2] = t;
    return;
  }
  const k = 1 / (va + vb + vc);
  L[0] = va * k;
  L[1] = vb * k;
  L[2] = vc * k;
}

function lengthOf(ia: number, ib: number, ic: number): number {
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    const x = L[0]! * S[9 * ia + k]! + L[1]! * S[9 * ib + k]! + L[2]! * S[9 * ic + k]!;
    sum += x * x;
  }
  return sum;
}

/** A triple product of differences is sure of its sign above this share of its factors, squared. */
const SURE2 = 1e-20;
/** Least share of the faces tested, squared: how surely the origin is inside. */
let margin2 = Infinity;
/** True when the origin lies on the other side of face (a, b, c) than vertex d, or the tetrahedron is flat. */
function outside(a: number, b: number, c: number, d: number): boolean {
  const ax = S[9 * a]!,
    ay = S[9 * a + 1]!,
    az = S[9 * a + 2]!;
  const ux = S[9 * b]! - ax,
    uy = S[9 * b + 1]! - ay,
    uz = S[9 * b + 2]! - az,
    vx = S[9 * c]! - ax,
    vy = S[9 * c + 1]! - ay,
    vz = S[9 * c + 2]! - az;
  const nx = uy * vz - uz * vy,
    ny = uz * vx - ux * vz,
    nz = ux * vy - uy * vx;
  const p = -(ax * nx + ay * ny + az * nz);
  const q = (S[9 * d]! - ax) * nx + (S[9 * d + 1]! - ay) * ny + (S[9 * d + 2]! - az) * nz;
  if (!(p * q > 0)) return true;
  const factors2 = (ux * ux + uy * uy + uz * uz) * (vx * vx + vy * vy + vz * vz) * (ax * ax + ay * ay + az * az);
  if (p * p < margin2 * factors2) margin2 = (p * p) / factors2;
  return false;
}

/** Reduces the simplex to the vertices that carry the point nearest to the origin. True when the origin is inside. */
function reduce(): boolean {
  if (size === 1) {
    L[0] = 1;
    return false;
  }
  if (size === 2) {
    onEdge(0, 1);
  } else if (size === 3) {
    onTriangle(0, 1, 2);
  } else {
    let best = Infinity;
    margin2 = Infinity;
    for (let f = 0; f < 4; f++) {
      const a = f === 0 ? 1 : 0,
        b = f <= 1 ? 2 : 1,
        c = f === 3 ? 2 : 3;
      if (!outside(a, b, c, f)) continue;
      onTriangle(a, b, c);
      const d = lengthOf(a, b, c);
      if (d < best) {
        best = d;
        face[0] = a;
        face[1] = b;
        face[2] = c;
        weight[0] = L[0]!;
        weight[1] = L[1]!;
        weight[2] = L[2]!;
      }
    }
    if (best === Infinity) return true;
    // The face's vertices rise, so each moves down to a place that is no longer needed.
    for (let k = 0; k < 3; k++) {
      if (face[k] !== k) copyVertex(S, face[k]!, S, k);
      L[k] = weight[k]!;
    }
    size = 3;
  }
  let n = 0,
    sum = 0;
  for (let k = 0; k < size; k++) {
    if (L[k]! > 0) {
      sum += L[k]!;
      if (n !== k) copyVertex(S, k, S, n);
      L[n] = L[k]!;
      n++;
    }
  }
  size = n;
  // Rounding may leave a weight below 0, dropped here: without this the point would leave the simplex.
  for (let k = 0; k < n; k++) L[k]! /= sum;
  return false;
}

/** Best point so far: of A − B, of A, of B. */
const best = new Float64Array(9);
const trial = new Float64Array(9);
/** Distance of the point that the weights give; left in `trial`. */
function weigh(): number {
  for (let k = 0; k < 9; k++) {
    let sum = 0;
    for (let m = 0; m < size; m++) sum += L[m]! * S[9 * m + k]!;
    trial[k] = sum;
  }
  return Math.sqrt(trial[0]! * trial[0]! + trial[1]! * trial[1]! + trial[2]! * trial[2]!);
}

/**
 * Distance between the cores of two shapes; 0 when they meet. Witness points go to out[0..5] (on A, on B), the proven lower
 * bound to out[6]. Stops early, with some value above `cutoff`, as soon as the lower bound exceeds `cutoff`; the value
 * returned is then that lower bound.
 */
export function convexDistance(
  kindA: number,
  A: Float64Array,
  i: number,
  kindB: number,
  B: Float64Array,
  j: number,
  cutoff: number,
  out: Float64Array,
  accuracy = ACCURACY,
): number {
  let vx = middleOf(kindA, A, i, 0) - middleOf(kindB, B, j, 0),
    vy = middleOf(kindA, A, i, 1) - middleOf(kindB, B, j, 1),
    vz = middleOf(kindA, A, i, 2) - middleOf(kindB, B, j, 2);
  if (vx * vx + vy * vy + vz * vz < 1e-20) vx = 1;
  size = 0;
  let upper = Infinity,
    lower = 0,
    restarts = 0;
  for (let step = 0; step < STEPS; step++) {
    const o = 9 * size;
    supportPoint(kindA, A, i, -vx, -vy, -vz, S, o + 3);
    supportPoint(kindB, B, j, vx, vy, vz, S, o + 6);
    const wx = (S[o] = S[o + 3]! - S[o + 6]!),
      wy = (S[o + 1] = S[o + 4]! - S[o + 7]!),
      wz = (S[o + 2] = S[o + 5]! - S[o + 8]!);
    const length = Math.sqrt(vx * vx + vy * vy + vz * vz);
    const bound = (vx * wx + vy * wy + vz * wz) / length;
    if (bound > lower) {
      lower = bound;
      if (lower > cutoff) {
        out[6] = lower;
        return lower;
      }
    }
    if (upper - lower <= accuracy) break;
    let stalled = false;
    // The same vertex again: this simplex cannot improve.
    for (let k = 0; k < size && !stalled; k++) stalled = S[9 * k] === wx && S[9 * k + 1] === wy && S[9 * k + 2] === wz;
    if (!stalled) {
      size++;
      if (reduce()) {
        // Inside a sliver, or inside although a plane is known to part the shapes: rounding.
        if (lower <= TOUCH && (margin2 > SURE2 || restarts >= RESTARTS)) {
          upper = 0;
          lower = 0;
          break;
        }
        stalled = true;
      } else {
        const d = weigh();
        if (d < upper) {
          upper = d;
          for (let k = 0; k < 9; k++) best[k] = trial[k]!;
          vx = best[0]!;
          vy = best[1]!;
          vz = best[2]!;
          if (d <= TOUCH && lower <= TOUCH) {
            upper = 0;
            lower = 0;
            break;
          }
        } else stalled = true;
      }
    }
    if (stalled) {
      // Slivers of nearly equal rim points have lost their digits: go on from the best point alone. It belongs to A − B.
      if (restarts++ >= RESTARTS || upper === Infinity) break;
      for (let k = 0; k < 9; k++) S[k] = best[k]!;
      size = 1;
      vx = best[0]!;
      vy = best[1]!;
      vz = best[2]!;
    }
  }
  for (let k = 0; k < 6; k++) out[k] = best[3 + k]!;
  // Within the accuracy of contact, and no plane known that parts them: they meet.
  if (upper <= accuracy && lower <= TOUCH) upper = 0;
  out[6] = lower < upper ? lower : upper;
  return upper;
}
