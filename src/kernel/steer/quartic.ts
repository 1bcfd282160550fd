/**
 * All roots of a real quartic as two real quadratics.
 *
 * Method: the depressed quartic y⁴ + p y² + q y + r splits as (y² + uy + s)(y² − uy + t) where u² is the largest real
 * root of the resolvent z³ + 2p z² + (p² − 4r) z − q² (Descartes; any textbook of algebra), found by bracketed Newton
 * from above. It pairs conjugates with each other, and sorted neighbours when all roots are real. The factors
 * are then refined by Newton on the four coefficients (the linear system is that of Bairstow's method), which gives back
 * the digits lost in the shift. A double root inside one factor does no harm to the factor: only the square root of its
 * discriminant is sensitive (√ε), as it is for every method that starts from rounded coefficients. Two factors with a
 * root in common would harm it, so a close pair in the middle of four real roots is put into one factor first.
 * Chosen over a general QR iteration because it needs no matrix, no allocation and no transcendental function.
 * Not here: leading coefficient 0, triple roots to better than ε^(1/3).
 */
export interface QuarticEnd {
  readonly converged: boolean;
  readonly iterations: number;
  /** Largest coefficient error of the product of the factors, relative to the size of the roots (backward error). */
  readonly residual: number;
  readonly reason: string;
}

const MOST = 200;
const BACKWARD = 1e-12;
/** Square of the distance of the two factors' centres, in units of the size of the roots, that counts as none. */
const NO_SPLIT = 1e-18;

/** Real and imaginary parts of the roots of x² + bx + c into `out` at `o`, without cancellation; larger real part, or +im, first. */
function quadratic(b: number, c: number, out: Float64Array, o: number): void {
  const h = -b / 2;
  const d = h * h - c;
  if (d < 0) {
    const im = Math.sqrt(-d);
    out[o] = h + 0; // + 0: no negative zero
    out[o + 1] = im;
    out[o + 2] = h + 0;
    out[o + 3] = -im;
    return;
  }
  const far = h >= 0 ? h + Math.sqrt(d) : h - Math.sqrt(d);
  const near = far === 0 ? 0 : c / far;
  out[o] = Math.max(far, near);
  out[o + 1] = 0;
  out[o + 2] = Math.min(far, near);
  out[o + 3] = 0;
}

/**
 * Roots of a4 x⁴ + a3 x³ + a2 x² + a1 x + a0 into `out` (re, im four times, from offset `o`), by real part, largest
 * first, conjugates +im first. NaN coefficients or a4 = 0 give NaN roots and `converged: false`.
 */
export function quarticRoots(
  a4: number,
  a3: number,
  a2: number,
  a1: number,
  a0: number,
  out: Float64Array,
  o = 0,
): QuarticEnd {
  let A = a3 / a4;
  let B = a2 / a4;
  let C = a1 / a4;
  let D = a0 / a4;
  // Size of the roots: the largest of the coefficients, each brought to the dimension of a root.
  const size = powerOfTwo(
    Math.max(Math.abs(A), Math.sqrt(Math.abs(B)), cubeSize(C), Math.sqrt(Math.sqrt(Math.abs(D)))),
  );
  if (!(size < Infinity)) {
    out.fill(NaN, o, o + 8);
    return { converged: false, iterations: 0, residual: NaN, reason: 'coefficients are not finite' };
  }
  if (size === 0) {
    out.fill(0, o, o + 8);
    return { converged: true, iterations: 0, residual: 0, reason: 'all roots are zero' };
  }
  // From here on in units of `size`, a power of two: exact, and no power of a root over- or underflows.
  A /= size;
  B = B / size / size;
  C = C / size / size / size;
  D = D / size / size / size / size;
  const h = A / 4;
  const p = B - 6 * h * h;
  const q = C - 2 * B * h + 8 * h * h * h;
  const r = D - C * h + B * h * h - 3 * h * h * h * h;
  // Largest root of the resolvent, which is ≤ 0 at 0 and positive at Fujiwara's bound 2 max |e_k|^(1/k). With three real
  // roots Newton comes down to the largest one monotonically; with one, the bracket catches what Newton throws wide.
  const e1 = 2 * p;
  const e2 = p * p - 4 * r;
  const e3 = -q * q;
  let low = 0;
  let high = 2 * Math.max(Math.abs(e1), Math.sqrt(Math.abs(e2)), cubeSize(e3));
  let z = high;
  let iterations = 0;
  for (; iterations < MOST && z > NO_SPLIT; iterations++) {
    const f = ((z + e1) * z + e2) * z + e3;
    if (f > 0) high = z;
    else if (f < 0) low = z;
    else break;
    const newton = z - f / ((3 * z + 2 * e1) * z + e2);
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - z) <= Number.EPSILON * z) break;
    z = next;
  }
  const u = Math.sqrt(Math.max(0, z));
  let s: number;
  let t: number;
  if (z > NO_SPLIT) {
    s = (p + z - q / u) / 2;
    t = (p + z + q / u) / 2;
  } else {
    const d = Math.sqrt(Math.max(0, p * p - 4 * r));
    s = (p - d) / 2;
    t = (p + d) / 2;
  }
  // Back to x = y − h: (x + h)² + u (x + h) + s and its mate.
  let b = 2 * h + u;
  let c = h * h + u * h + s;
  let d = 2 * h - u;
  let e = h * h - u * h + t;
  quadratic(d, e, out, o);
  quadratic(b, c, out, o + 4);
  const real = out[o + 1] === 0 && out[o + 5] === 0;
  if (real && out[o + 2]! - out[o + 4]! < Math.min(out[o]! - out[o + 2]!, out[o + 4]! - out[o + 6]!)) {
    b = -(out[o]! + out[o + 6]!);
    c = out[o]! * out[o + 6]!;
    d = -(out[o + 2]! + out[o + 4]!);
    e = out[o + 2]! * out[o + 4]!;
  }
  const error = (b: number, c: number, d: number, e: number): number =>
    Math.max(Math.abs(b + d - A), Math.abs(c + e + b * d - B), Math.abs(b * e + c * d - C), Math.abs(c * e - D));
  let residual = error(b, c, d, e);
  for (let k = 0; k < 8; k++, iterations++) {
    const r3 = b + d - A;
    const r2 = c + e + b * d - B - b * r3;
    const r1 = b * e + c * d - C - c * r3 - b * r2;
    const r0 = c * e - D - c * r2;
    const bd = b - d;
    const ec = e - c;
    const j11 = ec + b * bd;
    const det = j11 * ec + c * bd * bd;
    if (det === 0) break;
    const db = (-r1 * ec - r0 * bd) / det;
    const dc = (-r0 * j11 + r1 * c * bd) / det;
    const nb = b + db;
    const nc = c + dc;
    const nd = d - r3 - db;
    const ne = e - r2 - dc + bd * db;
    const next = error(nb, nc, nd, ne);
    if (!(next <= residual)) break;
    const gained = next < residual;
    b = nb;
    c = nc;
    d = nd;
    e = ne;
    residual = next;
    if (!gained) break;
  }
  quadratic(d, e, out, o);
  quadratic(b, c, out, o + 4);
  for (let k = o; k < o + 8; k++) out[k]! *= size;
  sortRoots(out, o);
  const converged = residual <= BACKWARD;
  return {
    converged,
    iterations,
    residual,
    reason: converged ? 'factors reproduce the coefficients' : 'factors stalled',
  };
}

/** The power of two at or just above x; 0 and what is not finite stay as they are. */
function powerOfTwo(x: number): number {
  if (!(x > 0) || !(x < Infinity)) return x;
  let k = 1;
  while (k < x) k *= 2;
  while (k / 2 >= x) k /= 2;
  return k;
}

/** |x|^(1/3) to a factor of two, without a cube root: only a size is wanted. */
function cubeSize(x: number): number {
  let a = Math.abs(x);
  if (!(a > 0) || !(a < Infinity)) return a;
  let k = 1;
  while (a > 8) {
    a /= 8;
    k *= 2;
  }
  while (a < 1) {
    a *= 8;
    k /= 2;
  }
  return k * 2;
}

/** Insertion sort of four (re, im) pairs by real part, then imaginary part, largest first. */
function sortRoots(out: Float64Array, o: number): void {
  for (let i = 1; i < 4; i++)
    for (let j = o + 2 * i; j > o; j -= 2) {
      const re = out[j]!;
      const im = out[j + 1]!;
      if (re < out[j - 2]! || (re === out[j - 2]! && im <= out[j - 1]!)) break;
      out[j] = out[j - 2]!;
      out[j + 1] = out[j - 1]!;
      out[j - 2] = re;
      out[j - 1] = im;
    }
}
