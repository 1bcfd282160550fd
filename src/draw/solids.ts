/**
 * The bicycle's shapes in a view, true to scale: capsules as tubes with their widths, discs as wheels, boxes as hardware.
 *
 * Painter's order: the farther shape first, each filled with paper so that it hides what lies behind it; wheels stay
 * open between hub and rim, as spokes would leave them.
 */
import type { Numbers, Topology, Vec3 } from '#kernel';
import { FAINT, INK, NARROW, PAPER, WIDE } from './ink.ts';
import { element, type Point2, polyline } from './svg.ts';
import { depth, flat, hull2, onSheet, pointAt, type Sheet, type View } from './view.ts';

/** Posed shape arrays: strides 7, 8 and 15 as in State. */
export interface Solids {
  readonly capsule: Numbers;
  readonly disc: Numbers;
  readonly box: Numbers;
}

const STEPS = 48;

/** Points of a circle in space: centre c, unit normal n. */
export function ring(c: Vec3, n: Vec3, radius: number): Vec3[] {
  const seed: Vec3 = Math.abs(n[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
  const k = seed[0] * n[0] + seed[1] * n[1] + seed[2] * n[2];
  const u: Vec3 = [seed[0] - k * n[0], seed[1] - k * n[1], seed[2] - k * n[2]];
  const l = Math.sqrt(u[0] * u[0] + u[1] * u[1] + u[2] * u[2]);
  const e: Vec3 = [u[0] / l, u[1] / l, u[2] / l];
  const f: Vec3 = [n[1] * e[2] - n[2] * e[1], n[2] * e[0] - n[0] * e[2], n[0] * e[1] - n[1] * e[0]];
  return Array.from({ length: STEPS }, (_, i) => {
    const a = (2 * Math.PI * i) / STEPS;
    const x = radius * Math.cos(a);
    const y = radius * Math.sin(a);
    return [c[0] + x * e[0] + y * f[0], c[1] + x * e[1] + y * f[1], c[2] + x * e[2] + y * f[2]];
  });
}

const along = (c: Vec3, n: Vec3, d: number): Vec3 => [c[0] + d * n[0], c[1] + d * n[1], c[2] + d * n[2]];

/** All points that bound the solids in space; used for extents. */
export function boundary(top: Topology, s: Solids): Vec3[] {
  const out: Vec3[] = [];
  for (let i = 0; i < top.nCapsule; i++) {
    const r = s.capsule[7 * i + 6]!;
    for (const end of [pointAt(s.capsule, 7 * i), pointAt(s.capsule, 7 * i + 3)])
      for (const n of [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ] as const)
        out.push(along(end, n, r), along(end, n, -r));
  }
  for (let i = 0; i < top.nDisc; i++) out.push(...discPoints(s, i));
  for (let i = 0; i < top.nBox; i++) out.push(...corners(s, i));
  return out;
}

const discPoints = (s: Solids, i: number): Vec3[] => {
  const c = pointAt(s.disc, 8 * i);
  const n = pointAt(s.disc, 8 * i + 3);
  const [r, h] = [s.disc[8 * i + 6]!, s.disc[8 * i + 7]!];
  return [...ring(along(c, n, h), n, r), ...ring(along(c, n, -h), n, r)];
};

const corners = (s: Solids, i: number): Vec3[] => {
  const o = 15 * i;
  const c = pointAt(s.box, o);
  const out: Vec3[] = [];
  for (const a of [-1, 1])
    for (const b of [-1, 1])
      for (const d of [-1, 1]) {
        let p = c;
        [a, b, d].forEach((sign, k) => {
          p = along(p, pointAt(s.box, o + 3 + 3 * k), sign * s.box[o + 12 + k]!);
        });
        out.push(p);
      }
  return out;
};

/** Outline of a tube with round ends in the view plane. */
function stadium(a: Point2, b: Point2, r: number): Point2[] {
  const disc = (c: Point2): Point2[] =>
    Array.from({ length: 24 }, (_, i) => {
      const t = (2 * Math.PI * i) / 24;
      return [c[0] + r * Math.cos(t), c[1] + r * Math.sin(t)];
    });
  return hull2([...disc(a), ...disc(b)]);
}

export interface DrawOptions {
  /** Pen of outlines; ghosts are drawn faint and unfilled. */
  readonly ghost?: boolean;
  /** Shape indices (capsules, discs, boxes in this order) to pick out in the accent colour. */
  readonly marked?: ReadonlySet<number>;
}

/** Every shape, back to front. */
export function drawSolids(top: Topology, s: Solids, view: View, sheet: Sheet, options: DrawOptions = {}): string {
  const place = (p: Vec3): Point2 => onSheet(sheet, flat(view, p));
  const items: { depth: number; markup: string }[] = [];
  const pen = (index: number, width = WIDE) => ({
    fill: options.ghost ? 'none' : PAPER,
    stroke: options.marked?.has(index) ? 'var(--accent)' : options.ghost ? FAINT : INK,
    'stroke-width': options.marked?.has(index) ? 2.4 : options.ghost ? NARROW : width,
    'stroke-dasharray': options.ghost ? '10 3 2 3 2 3' : undefined,
    'stroke-linejoin': 'round',
  });
  for (let i = 0; i < top.nCapsule; i++) {
    const p = pointAt(s.capsule, 7 * i);
    const q = pointAt(s.capsule, 7 * i + 3);
    const r = s.capsule[7 * i + 6]!;
    const outline = stadium(flat(view, p), flat(view, q), r).map((x) => onSheet(sheet, x));
    items.push({ depth: (depth(view, p) + depth(view, q)) / 2, markup: polyline(outline, pen(i, 1.2), true) });
  }
  for (let i = 0; i < top.nDisc; i++) {
    const index = top.nCapsule + i;
    const c = pointAt(s.disc, 8 * i);
    const n = pointAt(s.disc, 8 * i + 3);
    const radius = s.disc[8 * i + 6]!;
    const outline = hull2(discPoints(s, i).map((p) => flat(view, p))).map((x) => onSheet(sheet, x));
    // a tyre is as tall as it is wide (ISO 5775 section height), so the rim's edge lies one thickness inside
    const inner = radius - 2 * s.disc[8 * i + 7]!;
    const facing = Math.abs(n[0] * view.toward[0] + n[1] * view.toward[1] + n[2] * view.toward[2]);
    const open = facing > 0.3 && radius > 0.12;
    const rim = open ? ring(c, n, inner).map(place) : [];
    const hole = open ? polyline(rim, { ...pen(index, NARROW), fill: 'none' }, true) : '';
    const tyre = open
      ? element('path', {
          ...pen(index),
          'fill-rule': 'evenodd',
          d: [outline, rim]
            .map((loop) => `M${loop.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}Z`)
            .join(''),
        })
      : polyline(outline, pen(index), true);
    items.push({ depth: depth(view, c), markup: tyre + hole });
  }
  for (let i = 0; i < top.nBox; i++) {
    const outline = hull2(corners(s, i).map((p) => flat(view, p))).map((x) => onSheet(sheet, x));
    const index = top.nCapsule + top.nDisc + i;
    items.push({ depth: depth(view, pointAt(s.box, 15 * i)), markup: polyline(outline, pen(index, NARROW), true) });
  }
  items.sort((a, b) => a.depth - b.depth);
  return element(
    'g',
    {},
    items.map((item) => item.markup),
  );
}
