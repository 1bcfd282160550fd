/**
 * Vectors and rigid motions on flat arrays.
 *
 * A motion is 12 numbers, row-major 3×4 [R | t]: p' = R p + t. Functions write into `out` at an offset so that hot
 * loops allocate nothing. Rotation by Rodrigues' formula about an axis through a point.
 * Not here: quaternions, scaling.
 */
export type Vec3 = readonly [number, number, number];
export type Numbers = Float64Array | readonly number[];

export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, k: number): Vec3 => [a[0] * k, a[1] * k, a[2] * k];
/** Euclidean length. Plain square root of the sum of squares: `Math.hypot` differs between engines in the last digit. */
export const norm = (a: Vec3): number => Math.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2]);
/** The unit vector along `a`. NaN for a zero vector: the caller refuses those where they are born. */
export const unit = (a: Vec3): Vec3 => scale(a, 1 / norm(a));
export const at3 = (a: Numbers, i: number): Vec3 => [a[i]!, a[i + 1]!, a[i + 2]!];

export const IDENTITY: Numbers = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0];

export function setIdentity(out: Float64Array, o = 0): void {
  out.fill(0, o, o + 12);
  out[o] = 1;
  out[o + 5] = 1;
  out[o + 10] = 1;
}

/** Rotation by `angle` (rad, right-hand) about the unit `axis` through `point`. */
export function rotationAbout(
  px: number,
  py: number,
  pz: number,
  ax: number,
  ay: number,
  az: number,
  angle: number,
  out: Float64Array,
  o = 0,
): void {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const k = 1 - c;
  const r00 = c + ax * ax * k,
    r01 = ax * ay * k - az * s,
    r02 = ax * az * k + ay * s;
  const r10 = ay * ax * k + az * s,
    r11 = c + ay * ay * k,
    r12 = ay * az * k - ax * s;
  const r20 = az * ax * k - ay * s,
    r21 = az * ay * k + ax * s,
    r22 = c + az * az * k;
  out[o] = r00;
  out[o + 1] = r01;
  out[o + 2] = r02;
  out[o + 3] = px - (r00 * px + r01 * py + r02 * pz);
  out[o + 4] = r10;
  out[o + 5] = r11;
  out[o + 6] = r12;
  out[o + 7] = py - (r10 * px + r11 * py + r12 * pz);
  out[o + 8] = r20;
  out[o + 9] = r21;
  out[o + 10] = r22;
  out[o + 11] = pz - (r20 * px + r21 * py + r22 * pz);
}

/** Translation by `d` along the unit axis. */
export function translationAlong(ax: number, ay: number, az: number, d: number, out: Float64Array, o = 0): void {
  setIdentity(out, o);
  out[o + 3] = ax * d;
  out[o + 7] = ay * d;
  out[o + 11] = az * d;
}

/** out = a ∘ b (b first). `out` may not overlap `a` or `b`. */
export function compose(a: Numbers, ao: number, b: Numbers, bo: number, out: Float64Array, o: number): void {
  for (let i = 0; i < 12; i += 4) {
    const r0 = a[ao + i]!,
      r1 = a[ao + i + 1]!,
      r2 = a[ao + i + 2]!;
    out[o + i] = r0 * b[bo]! + r1 * b[bo + 4]! + r2 * b[bo + 8]!;
    out[o + i + 1] = r0 * b[bo + 1]! + r1 * b[bo + 5]! + r2 * b[bo + 9]!;
    out[o + i + 2] = r0 * b[bo + 2]! + r1 * b[bo + 6]! + r2 * b[bo + 10]!;
    out[o + i + 3] = r0 * b[bo + 3]! + r1 * b[bo + 7]! + r2 * b[bo + 11]! + a[ao + i + 3]!;
  }
}

/** out = a⁻¹ for a rigid motion: [Rᵀ | −Rᵀt]. */
export function invert(a: Numbers, ao: number, out: Float64Array, o: number): void {
  const tx = a[ao + 3]!,
    ty = a[ao + 7]!,
    tz = a[ao + 11]!;
  for (let i = 0; i < 3; i++) {
    const r0 = a[ao + i]!,
      r1 = a[ao + 4 + i]!,
      r2 = a[ao + 8 + i]!;
    out[o + 4 * i] = r0;
    out[o + 4 * i + 1] = r1;
    out[o + 4 * i + 2] = r2;
    out[o + 4 * i + 3] = -(r0 * tx + r1 * ty + r2 * tz);
  }
}

export const movePoint = (t: Numbers, o: number, p: Vec3): Vec3 => [
  t[o]! * p[0] + t[o + 1]! * p[1] + t[o + 2]! * p[2] + t[o + 3]!,
  t[o + 4]! * p[0] + t[o + 5]! * p[1] + t[o + 6]! * p[2] + t[o + 7]!,
  t[o + 8]! * p[0] + t[o + 9]! * p[1] + t[o + 10]! * p[2] + t[o + 11]!,
];
export const turnVector = (t: Numbers, o: number, v: Vec3): Vec3 => [
  t[o]! * v[0] + t[o + 1]! * v[1] + t[o + 2]! * v[2],
  t[o + 4]! * v[0] + t[o + 5]! * v[1] + t[o + 6]! * v[2],
  t[o + 8]! * v[0] + t[o + 9]! * v[1] + t[o + 10]! * v[2],
];
