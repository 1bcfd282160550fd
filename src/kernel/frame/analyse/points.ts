/**
 * Where stresses are looked at: the ends of every straight piece of every member, the edges of heat-affected zones, and in
 * between on tapered pieces.
 *
 * The elastic part of a tube begins where what it is welded to ends: its first point is the weld, and the heat-affected zone is
 * measured from there; on a tube that carries another, from the other's foot.
 * Along an unloaded straight piece forces vary linearly and the stress resultants are convex in them, so that the ends of a
 * uniform piece bear its extremes exactly; tapered pieces are looked at every quarter. A point within the width of a
 * heat-affected zone of any weld of its tube counts as weakened.
 * Units: mm, N, N·mm. Source: theory; zone widths from the material.
 * Not here: the stresses (`run-case.ts`), local stress of joints other than the hot-spot factors.
 */
import { sectionAxes } from '../../mass/section.ts';
import { cross, dot, scale, sub, unit, type Vec3 } from '../../math/rigid.ts';
import type { BuiltFrame } from '../build/build-frame.ts';
import { directionAt, lineOf, sizeAt } from '../build/line.ts';
import type { WeldPlace } from '../build/welds.ts';
import { type HotSpotFactors, teeHotSpotFactors } from '../fatigue/index.ts';
import { envelopeProperties, type TubeProperties, tubeProperties } from '../section/index.ts';
import type { DetailCurve, TubeStrength } from './strength.ts';

export interface StressPoint {
  readonly member: number;
  readonly tube: number;
  /** Distance along the tube, mm, and the place in this posture. */
  readonly s: number;
  readonly at: Vec3;
  readonly section: TubeProperties;
  /** Yield strength that counts here, MPa, and whether it is that of the heat-affected zone. */
  readonly strength: number;
  /** Ultimate strength that counts here, MPa. */
  readonly ultimate: number;
  readonly haz: boolean;
  /** Curves of the details at this place; the bare wall's where nothing is welded. */
  readonly detail: DetailCurve | undefined;
  /** Hot-spot factors where the detail asks for them; the plane of the two tubes turns by `plane` (cos, sin) from local y to z. */
  readonly hotSpot: HotSpotFactors | undefined;
  readonly plane: readonly [number, number];
}
export interface StressPoints {
  readonly points: readonly StressPoint[];
  /** 12 per point: rows of the local axes (9), then lever from the point to the member's second node (3). */
  readonly frames: Float64Array;
  readonly outside: readonly string[];
}

const TAPER = [0, 0.25, 0.5, 0.75, 1] as const;
const PLAIN = [0, 1] as const;
/** Distances along a tube nearer than this are one place, mm. */
const SAME = 0.01;

/** @param strength one per tube of the frame's parts. */
export function stressPoints(frame: BuiltFrame, strength: readonly TubeStrength[]): StressPoints {
  const { structure, spans, parts } = frame;
  const lines = parts.tubes.map(lineOf);
  const plain = parts.tubes.map((tube, t) => {
    const [{ height, width }] = tube.ends;
    if (tube.given) return 'section' in tube.given ? envelopeProperties(tube.given.section, height, width) : undefined;
    return isPlain(tube.ends) ? tubeProperties({ shape: tube.shape, ...tube.ends[0] }, strength[t]!.nu) : undefined;
  });
  const points: StressPoint[] = [];
  const rows: number[] = [];
  const outside: string[] = [];
  structure.members.forEach((member, m) => {
    const span = spans[m]!;
    const tube = parts.tubes[span.tube]!;
    // of a block given by its stiffness nobody knows where its metal is
    if (tube.given && 'stiffness' in tube.given) return;
    const line = lines[span.tube]!;
    const known = strength[span.tube]!;
    const welds = frame.weldsOf[span.tube]!;
    const second = structure.nodes[member.to]!.at;
    member.pieces.forEach((piece, k) => {
      const [s0, s1] = [span.s[k]!, span.s[k + 1]!];
      const x = unit(sub(piece.to, piece.from));
      const z = cross(x, piece.y);
      const zones =
        known.hazWidth > 0 ? welds.map((w) => [w.from - known.hazWidth, w.to + known.hazWidth] as const) : [];
      const edges = zones
        .flat()
        .filter((s) => s > s0 + SAME && s < s1 - SAME)
        .map((s) => (s - s0) / (s1 - s0));
      for (const t of [...(plain[span.tube] ? PLAIN : TAPER), ...edges]) {
        const s = s0 + t * (s1 - s0);
        const first = k === 0 && t === 0;
        const last = k === member.pieces.length - 1 && t === 1;
        const weld =
          nearestWeld(welds, s, s) ??
          (first ? nearestWeld(welds, span.rigid[0], s) : undefined) ??
          (last ? nearestWeld(welds, s, span.rigid[1]) : undefined);
        // at its edge a zone is still weak: the stress there must be borne by the weaker side
        const haz = weld !== undefined || zones.some(([from, to]) => s > from - SAME && s < to + SAME);
        const at: Vec3 = [0, 1, 2].map((i) => piece.from[i]! + t * (piece.to[i]! - piece.from[i]!)) as unknown as Vec3;
        const section = plain[span.tube] ?? tubeProperties({ shape: tube.shape, ...sizeAt(tube, line, s) }, known.nu);
        const detail = weld === undefined ? known.bare : detailAt(frame, span.tube, weld.s, line.length, known);
        const spot =
          detail?.stress === 'hot-spot' ? hotSpotAt(frame, span.tube, weld!.s, line.length, section) : undefined;
        if (spot) for (const o of spot.factors.outside) outside.push(`${tube.name}: ${o}`);
        points.push({
          member: m,
          tube: span.tube,
          s,
          at,
          section,
          strength: haz ? known.hazYield : known.yield,
          ultimate: haz ? known.hazUltimate : known.ultimate,
          haz,
          detail,
          hotSpot: spot?.factors,
          plane: spot ? planeOf(spot.chord, directionAt(line, (s0 + s1) / 2)) : [1, 0],
        });
        rows.push(...x, ...piece.y, ...z, ...sub(second, at));
      }
    });
  });
  return { points, frames: Float64Array.from(rows), outside: [...new Set(outside)] };
}

const isPlain = (
  ends: readonly [{ height: number; width: number; wall: number }, { height: number; width: number; wall: number }],
): boolean => ends[0].height === ends[1].height && ends[0].width === ends[1].width && ends[0].wall === ends[1].wall;

/** The weld that takes up some of the tube between two distances along it, the nearest to their middle where several do. */
function nearestWeld(welds: readonly WeldPlace[], from: number, to: number): WeldPlace | undefined {
  let best: WeldPlace | undefined;
  const off = (w: WeldPlace): number => Math.abs(w.s - (from + to) / 2);
  for (const w of welds) if (w.to > from - SAME && w.from < to + SAME && (!best || off(w) < off(best))) best = w;
  return best;
}

function detailAt(
  frame: BuiltFrame,
  tube: number,
  weld: number,
  length: number,
  known: TubeStrength,
): DetailCurve | undefined {
  const end = weld < SAME ? 0 : weld > length - SAME ? 1 : -1;
  if (end < 0) return known.carrying;
  return frame.welds.some((w) => w.tube === tube && w.end === end) ? known.onTube : known.onPlate;
}

function hotSpotAt(
  frame: BuiltFrame,
  tube: number,
  weld: number,
  length: number,
  section: TubeProperties,
): { factors: HotSpotFactors; chord: Vec3 } | undefined {
  const end = weld < SAME ? 0 : 1;
  const at = frame.welds.find(
    (w) => w.tube === tube && w.end === end && (end === 0 ? weld < SAME : weld > length - SAME),
  );
  if (!at) return undefined;
  const chord = frame.parts.tubes[at.chord]!;
  const line = lineOf(chord);
  const size = sizeAt(chord, line, at.s);
  const along = directionAt(line, at.s);
  const own = directionAt(lineOf(frame.parts.tubes[tube]!), weld);
  const cosine = Math.min(1, Math.abs(dot(along, own)));
  const angle = Math.max(Math.acos(cosine), 0.05);
  const factors = teeHotSpotFactors({
    chordOd: Math.sqrt(size.height * size.width),
    chordWall: size.wall,
    braceOd: Math.min(Math.sqrt(section.height * section.width), Math.sqrt(size.height * size.width)),
    braceWall: section.wall,
    angle,
  });
  return { factors, chord: along };
}

/** Direction of the plane of two tubes in the local y and z of the one along `x`; both as drawn, in the ride posture. */
function planeOf(chord: Vec3, x: Vec3): readonly [number, number] {
  const y = sectionAxes(x).height;
  const square = sub(chord, scale(x, dot(chord, x)));
  const a = dot(square, y);
  const b = dot(square, cross(x, y));
  const n = Math.sqrt(a * a + b * b);
  return n > 1e-6 ? [a / n, b / n] : [1, 0];
}

/** [N, Vy, Vz, T, My, Mz] at every point of one solution: 6 per point. */
export function pointForces(set: StressPoints, end: Float64Array, out: Float64Array): void {
  const { points, frames } = set;
  for (let i = 0; i < points.length; i++) {
    const e = 12 * points[i]!.member + 6;
    const f = 12 * i;
    const fx = end[e]!,
      fy = end[e + 1]!,
      fz = end[e + 2]!;
    const lx = frames[f + 9]!,
      ly = frames[f + 10]!,
      lz = frames[f + 11]!;
    const mx = end[e + 3]! + ly * fz - lz * fy;
    const my = end[e + 4]! + lz * fx - lx * fz;
    const mz = end[e + 5]! + lx * fy - ly * fx;
    for (let k = 0; k < 3; k++) {
      const a = frames[f + 3 * k]!,
        b = frames[f + 3 * k + 1]!,
        c = frames[f + 3 * k + 2]!;
      out[6 * i + k] = a * fx + b * fy + c * fz;
      out[6 * i + 3 + k] = a * mx + b * my + c * mz;
    }
  }
}
