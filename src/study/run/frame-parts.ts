/**
 * What of a candidate bears load: its tubes and blocks, bought parts that do (bar, stem, posts), axles that the file does
 * not draw, and the joints with their springs. Everything in the ride posture, mm, N, MPa.
 */
import {
  add,
  at3,
  type Block,
  cross,
  dot,
  type FrameBlock,
  type FrameHinge,
  type FrameTube,
  footOn,
  KIND,
  type KindName,
  lineOf,
  type Model,
  norm,
  type State,
  scale,
  sectionAxes,
  sub,
  type TubeEnd,
  unit,
  type Vec3,
  type Wheel,
} from '#kernel';
import { findMaterial, type Material, materialIn, type ResolvedCandidate } from '#project';
import { jointLaws } from './joint-laws.ts';

/** Material of every tube, in the order of the tubes. */
export interface LoadBearing {
  readonly tubes: readonly FrameTube[];
  readonly materials: readonly Material[];
  /** Detail category that the file chooses for a tube's ends; '' where it chooses none. */
  readonly details: readonly string[];
  /** True where the tube's body is heat-treated after welding: no weakened zones. */
  readonly treated: readonly boolean[];
  readonly blocks: readonly FrameBlock[];
  readonly hinges: readonly FrameHinge[];
  /** Joint of the model for each hinge. */
  readonly hingeJoint: readonly number[];
}

/**
 * Walls and materials of bought parts, mm; outside they are as thick as their own shape. Defaults, from memory.
 */
const BOUGHT: Readonly<Record<string, { wall: number; material: string }>> = {
  handlebar: { wall: 2.2, material: '6061-T6' },
  stem: { wall: 2.5, material: '6061-T6' },
  bar_post: { wall: 2.2, material: '6061-T6' },
  seat_post: { wall: 2.2, material: '6061-T6' },
};
/** Handlebars taper from where they are clamped to this at the grips, mm (ISO 4210-2 and common practice). */
const GRIP = 22.2;
/** Axle that the file does not draw: solid steel, mm; default, from memory. It stands for axle and hub shell together. */
const AXLE = { od: 10, wall: 5, material: '42CrMo4+QT' } as const;
/** A tube that passes the hub's middle within this is its axle, mm. */
const AT_HUB = 1;
/** Ends of tubes as near to the hub's axis as this count as dropouts, mm; and so far out at most. */
const DROPOUT = { off: 14, out: 110 } as const;

export const mm = (p: Vec3): Vec3 => scale(p, 1e3);
export const stationMm = (s: State, i: number): Vec3 => mm(at3(s.station, 3 * i));

/** @param s filled, ride posture. */
export function loadBearing(candidate: ResolvedCandidate, s: State): LoadBearing {
  const { model } = candidate;
  const tubes: FrameTube[] = [];
  const materials: Material[] = [];
  const details: string[] = [];
  const push = (tube: Omit<FrameTube, 'E' | 'G'>, material: Material, detail = ''): void => {
    tubes.push({ ...tube, E: 1e3 * material.E_GPa, G: 1e3 * material.G_GPa });
    materials.push(material);
    details.push(detail);
  };
  for (const m of model.members) {
    const v = s.value;
    const { section: c } = m;
    const size = (slot: number, end: number): number => 1e3 * v[end < 0 ? slot : end]!;
    const first: TubeEnd = { height: size(c.height, -1), width: size(c.width, -1), wall: size(c.wall, -1) };
    const last: TubeEnd = {
      height: size(c.height, c.endHeight),
      width: size(c.width, c.endWidth),
      wall: size(c.wall, c.endWall),
    };
    push(
      {
        name: m.name,
        body: m.body,
        points: m.path.map((p) => stationMm(s, p)),
        bendRadius: m.bendRadius < 0 ? 0 : 1e3 * v[m.bendRadius]!,
        shape: c.shape,
        ends: [first, last],
        welded: m.welded,
      },
      materialIn(materialOf(m.material), m.state),
      m.detail,
    );
  }
  for (const part of candidate.parts) {
    const bought = BOUGHT[part.kind];
    if (!bought) continue;
    for (const line of boughtLines(model, s, part)) {
      const wall = Math.min(bought.wall, ...line.od.map((od) => od / 2));
      push(round(line.name, part.body, line.points, line.od, wall, false), materialOf(bought.material));
    }
  }
  for (const wheel of [model.wheels.rear, model.wheels.front]) {
    const points = missingAxle(tubes, wheel.body, stationMm(s, wheel.station));
    const name = `${model.top.names.bodies[wheel.body]} axle (not drawn)`;
    const both = [AXLE.od, AXLE.od] as const;
    if (points) push(round(name, wheel.body, points, both, AXLE.wall, false), materialOf(AXLE.material));
  }
  for (const block of model.blocks) if (block.beam) push(...blockBeam(model, s, block, block.beam));
  const blocks = model.blocks
    .filter((b) => b.material !== '' && !b.beam)
    .map((b): FrameBlock => ({ name: b.name, body: b.body, ...boxOf(model, s, b.shape) }));
  const hubs = [model.wheels.rear, model.wheels.front].flatMap((w) => hubBlock(model, s, w, tubes) ?? []);
  const treated = tubes.map((t) => model.heatTreated[t.body]!);
  return { tubes, materials, details, treated, blocks: [...blocks, ...hubs], ...hingesOf(candidate, s, tubes, blocks) };
}

function boxOf(model: Model, s: State, shape: number): Pick<FrameBlock, 'centre' | 'axes' | 'half'> {
  const o = 15 * (shape - model.top.nCapsule - model.top.nDisc);
  return {
    centre: mm(at3(s.box, o)),
    axes: [at3(s.box, o + 3), at3(s.box, o + 6), at3(s.box, o + 9)],
    half: mm(at3(s.box, o + 12)),
  };
}

/** What a section without a shear area is taken for: a solid rectangle (Timoshenko). */
const SOLID_SHEAR = 5 / 6;

/** A block that bears load from its station to another, by its section or its stiffness. */
function blockBeam(
  model: Model,
  s: State,
  block: Block,
  beam: NonNullable<Block['beam']>,
): [Omit<FrameTube, 'E' | 'G'>, Material] {
  const points = [stationMm(s, block.station), stationMm(s, beam.to)];
  const along = unit(sub(points[1]!, points[0]!));
  const { width, height } = sectionAxes(along);
  const box = boxOf(model, s, block.shape);
  // across the beam: the axes of the envelope that run along it say nothing
  const across = (d: Vec3): number =>
    box.axes.reduce(
      (sum, a, k) => sum + (Math.abs(dot(a, along)) < 0.7 ? 2 * Math.abs(dot(a, d)) * box.half[k]! : 0),
      0,
    );
  const size = { height: across(height), width: across(width) };
  const end: TubeEnd = { ...size, wall: Math.min(size.height, size.width) / 2 };
  const material = block.material === '' ? undefined : materialIn(materialOf(block.material), block.state);
  const form = {
    name: block.name,
    body: block.body,
    points,
    bendRadius: 0,
    shape: 'rectangular',
    ends: [end, end],
  } as const;
  if (beam.stiffness)
    // no stress is computed from a matrix: the material is not asked
    return [
      { ...form, welded: material?.weldable ?? true, given: { stiffness: beam.stiffness.flat() } },
      material ?? materialOf(AXLE.material),
    ];
  const c = beam.section!;
  const v = s.value;
  const area = 1e6 * v[c.area]!;
  const moment = (slot: number): number => 1e12 * v[slot]!;
  const shear = SOLID_SHEAR * area;
  const section = { area, iy: moment(c.top), iz: moment(c.side), j: moment(c.twist), asy: shear, asz: shear };
  return [{ ...form, welded: material!.weldable, given: { section } }, material!];
}

function materialOf(name: string): Material {
  const found = findMaterial(name);
  if (!found) throw new Error(`no material ${name}: the file's materials are checked when it is read`);
  return found;
}
function round(
  name: string,
  body: number,
  points: readonly Vec3[],
  od: readonly [number, number],
  wall: number,
  welded: boolean,
) {
  const end = (d: number): TubeEnd => ({ height: d, width: d, wall });
  const ends = [end(od[0]), end(od[1])] as const;
  return { name, body, points, bendRadius: 0, shape: 'round' as const, ends, welded };
}

interface BoughtLine {
  readonly name: string;
  readonly points: readonly Vec3[];
  /** Outside diameter at the first and the last point. */
  readonly od: readonly [number, number];
}

/**
 * Centre lines of a bar, stem or post among the bought parts, from its clearance shapes. A handlebar is two halves, `NAME left`
 * and `NAME right`, each from where it is clamped to its end.
 */
function boughtLines(model: Model, s: State, part: ResolvedCandidate['parts'][number]): readonly BoughtLine[] {
  const { names, nCapsule } = model.top;
  const capsule = (word: string): { ends: [Vec3, Vec3]; od: number } | undefined => {
    const i = part.shapes.find((shape) => names.shapes[shape] === (word === '' ? part.name : `${part.name} ${word}`));
    if (i === undefined || i >= nCapsule) return undefined;
    return { ends: [mm(at3(s.capsule, 7 * i)), mm(at3(s.capsule, 7 * i + 3))], od: 2e3 * s.capsule[7 * i + 6]! };
  };
  if (part.kind !== 'handlebar') {
    const own = capsule('');
    return own ? [{ name: part.name, points: own.ends, od: [own.od, own.od] }] : [];
  }
  const middle = capsule('bar') ?? capsule('bar_left');
  if (!middle) return [];
  return (['left', 'right'] as const).flatMap((side) => {
    const grip = capsule(`grip_${side}`);
    const points = grip && [stationMm(s, part.station), ...grip.ends];
    return points ? [{ name: `${part.name} ${side}`, points, od: [middle.od, GRIP] as const }] : [];
  });
}

/** Ends of an axle through the hub to the outermost dropouts; undefined where a tube runs through the hub already. */
function missingAxle(tubes: readonly FrameTube[], body: number, hub: Vec3): Vec3[] | undefined {
  const own = tubes.filter((t) => t.body === body);
  if (own.some((t) => footOn(lineOf(t), hub).distance < AT_HUB)) return undefined;
  const ends = own
    .flatMap((t) => [t.points[0]!, t.points.at(-1)!])
    .filter((p) => {
      const d = sub(p, hub);
      return Math.abs(d[1]) < DROPOUT.out && norm([d[0], 0, d[2]]) < DROPOUT.off;
    });
  if (ends.length === 0) return undefined;
  const sorted = [...ends, hub].sort((a, b) => a[1] - b[1]);
  return [sorted[0]!, ...(sorted[0] === hub || sorted.at(-1) === hub ? [] : [hub]), sorted.at(-1)!];
}

/** Middle of a hub's bearing from the end of the axle, mm; default, from memory. */
const BEARING_INSET = 12;
/**
 * A hub shell holds its axle straight between its bearings: rigid there, so that only the stubs outside bend. Undefined where
 * no axle runs through the hub.
 */
function hubBlock(model: Model, s: State, wheel: Wheel, tubes: readonly FrameTube[]): FrameBlock | undefined {
  const hub = stationMm(s, wheel.station);
  const axle = tubes.find((t) => {
    const foot = t.body === wheel.body ? footOn(lineOf(t), hub) : undefined;
    const ends = [t.points[0]!, t.points.at(-1)!];
    return foot && foot.distance < AT_HUB && ends.every((p) => norm(sub(p, hub)) > BEARING_INSET);
  });
  if (!axle) return undefined;
  const ends = [axle.points[0]!, axle.points.at(-1)!].map((p) => norm(sub(p, hub)));
  const half = Math.min(...ends) - BEARING_INSET;
  if (!(half > 0)) return undefined;
  const along = unit(sub(axle.points.at(-1)!, axle.points[0]!));
  const { width, height } = sectionAxes(along);
  const thick = axle.ends[0].height;
  return {
    name: `${model.top.names.bodies[wheel.body]} hub`,
    body: wheel.body,
    centre: hub,
    axes: [along, width, height],
    half: [half, thick, thick],
  };
}

/** Joints between bodies that bear load. */
function hingesOf(
  candidate: ResolvedCandidate,
  s: State,
  tubes: readonly FrameTube[],
  blocks: readonly FrameBlock[],
): { hinges: FrameHinge[]; hingeJoint: number[] } {
  const { top } = candidate.model;
  const bearing = new Set([...tubes.map((t) => t.body), ...blocks.map((b) => b.body)]);
  const kinds = Object.keys(KIND) as KindName[];
  const hinges: FrameHinge[] = [];
  const hingeJoint: number[] = [];
  top.names.joints.forEach((name, j) => {
    const bodies: [number, number] = [top.jointA[j]!, top.jointB[j]!];
    if (!bodies.every((b) => bearing.has(b))) return;
    const kind = kinds[top.kind[j]!]!;
    const at = mm(at3(s.joint, 6 * j));
    const axis = at3(s.joint, 6 * j + 3);
    const placed = hardwarePlace(candidate, s, name, at, axis, tubes, bodies[0]);
    const cut = candidate.cutOuts[j]!;
    hinges.push({
      name,
      kind,
      bodies,
      at,
      axis,
      ...placed,
      cutOut: cut < 0 ? 0 : 1e3 * s.value[cut]!,
      laws: jointLaws(candidate, s, j),
    });
    hingeJoint.push(j);
  });
  return { hinges, hingeJoint };
}

/** Middle of the hardware and its axes: from its box, or, without one, from the member that ends at the joint. */
function hardwarePlace(
  candidate: ResolvedCandidate,
  s: State,
  name: string,
  at: Vec3,
  axis: Vec3,
  tubes: readonly FrameTube[],
  body: number,
): { centre: Vec3; axes: FrameHinge['axes'] } {
  const { top } = candidate.model;
  const boxes = top.names.shapes.flatMap((shape, i) =>
    shape === `${name} hardware` || shape.startsWith(`${name} hardware on `)
      ? [15 * (i - top.nCapsule - top.nDisc)]
      : [],
  );
  if (boxes.length > 0) {
    const o = boxes[0]!;
    const centre = scale(
      boxes.reduce<Vec3>((sum, b) => add(sum, mm(at3(s.box, b))), [0, 0, 0]),
      1 / boxes.length,
    );
    return { centre, axes: [at3(s.box, o + 3), at3(s.box, o + 6), at3(s.box, o + 9)] };
  }
  const ends = tubes
    .filter((t) => t.body === body)
    .flatMap((t) => [
      { p: t.points[0]!, d: sub(t.points[0]!, t.points[1]!) },
      { p: t.points.at(-1)!, d: sub(t.points.at(-1)!, t.points.at(-2)!) },
    ])
    .sort((a, b) => norm(sub(a.p, at)) - norm(sub(b.p, at)));
  for (const d of [...ends.slice(0, 1).map((e) => e.d), [1, 0, 0] as Vec3, [0, 1, 0] as Vec3]) {
    const square = sub(d, scale(axis, dot(d, axis)));
    if (!(norm(square) > 0.1 * norm(d))) continue;
    const along = unit(square);
    return { centre: at, axes: [along, cross(axis, along), axis] };
  }
  throw new RangeError(`joint ${name} has no direction square to its axis`);
}
