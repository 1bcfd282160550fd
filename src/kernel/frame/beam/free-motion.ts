/**
 * Which node is free, and in which direction, when a pivot vanishes.
 *
 * The failing pivot gives a motion v that nothing resists: 1 there, nothing at the nodes still to be eliminated, and what
 * statics makes of it before. If the failing node only turns or only shifts, its largest component is the answer. If it
 * does both, it swings about an axis elsewhere: a node on that axis, which turns the same way and stays in place, tells more.
 * Of nodes that move alike one with a support is named.
 * Where there is none, the failing pivot's own direction stands.
 * Source: own rule; that a zero pivot marks the freedom is theory (Golub & Van Loan, 4th ed., 4.2).
 */
import type { BlockFactor } from './block-ldl.ts';
import { backward } from './block-ldl.ts';

export const DIRECTIONS = ['ux', 'uy', 'uz', 'rx', 'ry', 'rz'] as const;
/** A part of a motion that is smaller than this share of the other is round-off or elastic noise. */
const NEGLIGIBLE = 1e-6;

/** The motion that belongs to a failing pivot, 6 by node. */
export function freeMotion(f: BlockFactor, place: number, component: number): Float64Array {
  const { pattern, values } = f;
  const x = new Float64Array(6 * pattern.nodes);
  const q = 6 * place;
  const o = pattern.start[place]!;
  x[q + component] = 1;
  for (let k = component - 1; k >= 0; k--) {
    let sum = 0;
    for (let i = k + 1; i <= component; i++) sum += values[o + 6 * i + k]! * x[q + i]!;
    x[q + k] = f.inverse[q + k] === 0 ? 0 : -sum;
  }
  backward(f, x, place);
  const v = new Float64Array(x.length);
  for (let p = 0; p < pattern.nodes; p++) for (let c = 0; c < 6; c++) v[6 * pattern.order[p]! + c] = x[6 * p + c]!;
  return v;
}

const size3 = (v: Float64Array, o: number): number =>
  Math.sqrt(v[o]! * v[o]! + v[o + 1]! * v[o + 1]! + v[o + 2]! * v[o + 2]!);

/**
 * @param size a length of the structure, to compare turns with shifts.
 * @param supported nodes with a support: of several that move alike, one of these is named, because that is where something is missing.
 */
export function freeDirection(
  v: Float64Array,
  node: number,
  component: number,
  size: number,
  supported: (n: number) => boolean,
): { node: number; component: number } {
  const largest = (n: number, from: number): number => {
    let best = n === node && component >= from && component < from + 3 ? component : from;
    for (let c = from; c < from + 3; c++)
      if (Math.abs(v[6 * n + c]!) > Math.abs(v[6 * n + best]!) * (1 + NEGLIGIBLE)) best = c;
    return best;
  };
  const shift = size3(v, 6 * node);
  const turn = size3(v, 6 * node + 3) * size;
  const all = shift + turn;
  const alike = (n: number, from: number): boolean =>
    [0, 1, 2].every(
      (c) => Math.abs(v[6 * n + from + c]! - v[6 * node + from + c]!) * (from === 3 ? size : 1) <= NEGLIGIBLE * all,
    );
  const nodes = Array.from({ length: v.length / 6 }, (_, n) => n);
  const first = (fits: (n: number) => boolean): number | undefined =>
    nodes.find((n) => supported(n) && fits(n)) ?? nodes.find(fits);
  const turns = turn > NEGLIGIBLE * shift;
  const shifts = shift > NEGLIGIBLE * turn;
  if (turns && shifts) {
    const onAxis = first((n) => alike(n, 3) && size3(v, 6 * n) <= NEGLIGIBLE * all);
    return onAxis === undefined ? { node, component } : { node: onAxis, component: largest(onAxis, 3) };
  }
  const here = supported(node) ? node : (first((n) => supported(n) && alike(n, 0) && alike(n, 3)) ?? node);
  return { node: here, component: largest(here, shifts ? 0 : 3) };
}
