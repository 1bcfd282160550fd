/**
 * A second solver for frames, as small as it can be: dense matrices, one textbook element for every straight piece, Cholesky.
 *
 * Unknowns are six for every node and for every joint between the pieces of a member, and one for every compliance at a
 * member's end. Every end of an element moves by a linear map of unknowns: its node's motion carried over the rigid offset, and
 * what the compliance lets it move. A tapered piece is cut into many short ones with the section of their middle.
 * Source: the 12 × 12 Timoshenko element (Przemieniecki 1968, Table 5.x forms; theory). Nothing here calls the kernel.
 */
import type { BeamMember, BeamSection, FrameJoint, FrameStructure, LoadGroup } from '#kernel';

type V = readonly [number, number, number];
/** Six motions, each a sum of unknowns. */
type Motion = readonly ReadonlyMap<number, number>[];

const minus = (a: V, b: V): V => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const times = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const inner = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

const ownMotion = (first: number): Motion => [0, 1, 2, 3, 4, 5].map((k) => new Map([[first + k, 1]]));
/** Motion of a point that is rigidly tied to another one, `r` away from it: u + θ × r. */
function carried(m: Motion, r: V): Motion {
  const add = (a: ReadonlyMap<number, number>, b: ReadonlyMap<number, number>, f: number): Map<number, number> => {
    const out = new Map(a);
    for (const [i, v] of b) out.set(i, (out.get(i) ?? 0) + f * v);
    return out;
  };
  const [ux, uy, uz, tx, ty, tz] = m as [Motion[0], Motion[0], Motion[0], Motion[0], Motion[0], Motion[0]];
  return [
    add(add(ux!, ty!, r[2]), tz!, -r[1]),
    add(add(uy!, tz!, r[0]), tx!, -r[2]),
    add(add(uz!, tx!, r[1]), ty!, -r[0]),
    tx!,
    ty!,
    tz!,
  ];
}

/** The textbook element in its own axes, u v w θx θy θz at both ends. */
function element(L: number, E: number, G: number, s: BeamSection): number[][] {
  const k = Array.from({ length: 12 }, () => new Array<number>(12).fill(0));
  const pair = (i: number, j: number, v: number): void => {
    k[i]![j] = v;
    k[j]![i] = v;
  };
  const rod = (i: number, v: number): void => {
    k[i]![i] = v;
    k[i + 6]![i + 6] = v;
    pair(i, i + 6, -v);
  };
  rod(0, (E * s.area) / L);
  rod(3, (G * s.j) / L);
  for (const [v, t, sign, I, A] of [
    [1, 5, 1, s.iz, s.asy],
    [2, 4, -1, s.iy, s.asz],
  ] as const) {
    const phi = (12 * E * I) / (G * A * L * L);
    const c = (E * I) / ((1 + phi) * L * L * L);
    rod(v, 12 * c);
    pair(v, t, sign * 6 * L * c);
    pair(v, t + 6, sign * 6 * L * c);
    pair(v + 6, t, -sign * 6 * L * c);
    pair(v + 6, t + 6, -sign * 6 * L * c);
    k[t]![t] = (4 + phi) * L * L * c;
    k[t + 6]![t + 6] = (4 + phi) * L * L * c;
    pair(t, t + 6, (2 - phi) * L * L * c);
  }
  return k;
}

class Sum {
  unknowns = 0;
  readonly terms: [number, number, number][] = [];
  six(): number {
    this.unknowns += 6;
    return this.unknowns - 6;
  }
  spring(motion: ReadonlyMap<number, number>, k: number): void {
    if (k > 0) for (const [i, a] of motion) for (const [j, b] of motion) this.terms.push([i, j, k * a * b]);
  }
}

/** Pieces that a tapered one is cut into: its error falls with the square of their number. */
const CUTS = 400;

function addMember(sum: Sum, m: BeamMember, from: Motion, to: Motion, fromAt: V, toAt: V): void {
  const ends: [Motion, Motion] = [
    carried(from, minus(m.pieces[0]!.from, fromAt)),
    carried(to, minus(m.pieces.at(-1)!.to, toAt)),
  ];
  for (const { end, axes, compliance } of m.flex)
    compliance.forEach((c, i) => {
      if (c === 0) return;
      const own = sum.unknowns++;
      sum.spring(new Map([[own, 1]]), 1 / c);
      const shift = i < 3 ? 0 : 3;
      ends[end] = ends[end].map((map, k) => {
        const part = k >= shift && k < shift + 3 ? axes[i % 3]![k - shift]! : 0;
        return part === 0 ? map : new Map(map).set(own, part);
      });
    });
  let at = ends[0];
  m.pieces.forEach((p, k) => {
    const run = minus(p.to, p.from);
    const length = Math.sqrt(inner(run, run));
    const x: V = [run[0] / length, run[1] / length, run[2] / length];
    const axes = [x, p.y, times(x, p.y)];
    const next = k === m.pieces.length - 1 ? ends[1] : ownMotion(sum.six());
    const local = [at, next].flatMap((end) =>
      [0, 3].flatMap((shift) =>
        axes.map((axis) => {
          const out = new Map<number, number>();
          for (let c = 0; c < 3; c++)
            for (const [i, v] of end[shift + c]!) out.set(i, (out.get(i) ?? 0) + axis[c]! * v);
          return out;
        }),
      ),
    );
    const n = p.at ? CUTS : 1;
    const short = (e: number): number[][] => element(length / n, p.E, p.G, p.at ? p.at((e + 0.5) / n) : p.section);
    let matrix = short(0);
    for (let e = 1; e < n; e++) matrix = inSeries(matrix, short(e));
    for (let i = 0; i < 12; i++)
      for (let j = 0; j < 12; j++) {
        const v = matrix[i]![j]!;
        if (v !== 0)
          for (const [a, p1] of local[i]!) for (const [b, p2] of local[j]!) sum.terms.push([a, b, v * p1 * p2]);
      }
    at = next;
  });
}

/** Two elements in line as one: the six motions between them are eliminated, row by row. */
function inSeries(a: readonly number[][], b: readonly number[][]): number[][] {
  const k = Array.from({ length: 18 }, () => new Array<number>(18).fill(0));
  for (let i = 0; i < 12; i++)
    for (let j = 0; j < 12; j++) {
      k[i]![j]! += a[i]![j]!;
      k[i + 6]![j + 6]! += b[i]![j]!;
    }
  for (let c = 6; c < 12; c++)
    for (let i = 0; i < 18; i++) {
      if ((i >= 6 && i <= c) || k[i]![c] === 0) continue;
      const share = k[i]![c]! / k[c]![c]!;
      for (let j = 0; j < 18; j++) k[i]![j]! -= share * k[c]![j]!;
    }
  const kept = [0, 1, 2, 3, 4, 5, 12, 13, 14, 15, 16, 17];
  return kept.map((i) => kept.map((j) => k[i]![j]!));
}

function addJoint(sum: Sum, joint: FrameJoint, s: FrameStructure): void {
  const side = (n: number): Motion | undefined =>
    n < 0 ? undefined : carried(ownMotion(6 * n), minus(joint.at, s.nodes[n]!.at));
  const [a, b] = [side(joint.from), side(joint.to)];
  joint.laws.forEach(({ closed }, c) => {
    const out = new Map<number, number>();
    const shift = c < 3 ? 0 : 3;
    for (const [motion, sign] of [
      [a, -1],
      [b, 1],
    ] as const)
      if (motion)
        for (let k = 0; k < 3; k++)
          for (const [i, v] of motion[shift + k]!) out.set(i, (out.get(i) ?? 0) + sign * joint.axes[c % 3]![k]! * v);
    sum.spring(out, closed);
  });
}

/** Motion of all nodes under the group's load vector: six for each. */
export function secondSolution(s: FrameStructure, group: LoadGroup, vector: number): Float64Array {
  const sum = new Sum();
  for (const _ of s.nodes) sum.six();
  for (const m of s.members)
    addMember(sum, m, ownMotion(6 * m.from), ownMotion(6 * m.to), s.nodes[m.from]!.at, s.nodes[m.to]!.at);
  for (const j of [...s.joints, ...group.fixtures]) addJoint(sum, j, s);
  for (const { node, component, stiffness } of group.supports)
    if (stiffness) sum.spring(new Map([[6 * node + component, 1]]), stiffness);
  const held = new Set(group.supports.flatMap((p) => (p.stiffness ? [] : [6 * p.node + p.component])));
  const place = new Map<number, number>();
  for (let i = 0; i < sum.unknowns; i++) if (!held.has(i)) place.set(i, place.size);
  const n = place.size;
  const K = Array.from({ length: n }, () => new Float64Array(n));
  for (const [i, j, v] of sum.terms) {
    const [p, q] = [place.get(i), place.get(j)];
    if (p !== undefined && q !== undefined) K[p]![q]! += v;
  }
  const f = new Float64Array(n);
  for (const { node, force, moment, at } of group.loads[vector]!) {
    const turn = at ? times(minus(at, s.nodes[node]!.at), force) : [0, 0, 0];
    for (let k = 0; k < 3; k++) {
      const [p, q] = [place.get(6 * node + k), place.get(6 * node + 3 + k)];
      if (p !== undefined) f[p]! += force[k]!;
      if (q !== undefined) f[q]! += moment[k]! + turn[k]!;
    }
  }
  const x = solve(K, f);
  return Float64Array.from({ length: 6 * s.nodes.length }, (_, i) => (place.has(i) ? x[place.get(i)!]! : 0));
}

/** Cholesky with the unknowns scaled to a unit diagonal, refined twice: rigs are a thousand times stiffer than frames. */
function solve(K: readonly Float64Array[], f: Float64Array): Float64Array {
  const n = f.length;
  const d = K.map((row, i) => 1 / Math.sqrt(row[i]!));
  const A = K.map((row, i) => row.map((v, j) => v * d[i]! * d[j]!));
  const L = A.map((row) => row.slice());
  for (let j = 0; j < n; j++) {
    const lj = L[j]!;
    for (let k = 0; k < j; k++) lj[j]! -= lj[k]! * lj[k]!;
    if (!(lj[j]! > 1e-13)) throw new RangeError(`unknown ${j} is free`);
    lj[j] = Math.sqrt(lj[j]!);
    for (let i = j + 1; i < n; i++) {
      const li = L[i]!;
      let v = li[j]!;
      for (let k = 0; k < j; k++) v -= li[k]! * lj[k]!;
      li[j] = v / lj[j]!;
    }
  }
  const back = (b: Float64Array): Float64Array => {
    const y = b.slice();
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < i; k++) y[i]! -= L[i]![k]! * y[k]!;
      y[i]! /= L[i]![i]!;
    }
    for (let i = n - 1; i >= 0; i--) {
      for (let k = i + 1; k < n; k++) y[i]! -= L[k]![i]! * y[k]!;
      y[i]! /= L[i]![i]!;
    }
    return y;
  };
  const b = f.map((v, i) => v * d[i]!);
  const x = back(b);
  for (let round = 0; round < 2; round++) {
    const r = b.map((v, i) => v - A[i]!.reduce((s, a, j) => s + a * x[j]!, 0));
    back(r).forEach((v, i) => {
      x[i]! += v;
    });
  }
  return x.map((v, i) => v * d[i]!);
}
