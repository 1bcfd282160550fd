/**
 * Tubes and blocks of every body: their path, section, clearance shapes and mass.
 *
 * Clearance shapes contain the member. A straight round tube is one capsule of its larger radius. A straight oval or
 * rectangular tube is a box (its sides by `sectionAxes`). A bent tube is a chain of capsules with the larger half size
 * as radius: one a straight leg, and one a bend, its chord moved half the sagitta outward and its radius half the sagitta
 * more, so that the arc lies inside. Ends are cut short by the joint's `cut_out` where the member ends at a joint.
 */
import {
  add,
  at3,
  type Block,
  boxMass,
  type Member,
  norm,
  type SectionSlots,
  type State,
  scale,
  sectionAxes,
  sub,
  unit,
  type Vec3,
  writeMemberMass,
} from '#kernel';
import { detailNames, detailsFor, findDetail } from '../data/details.ts';
import type { PlasticState } from '../data/material-strength.ts';
import { findMaterial, type Material, materialNames } from '../data/materials.ts';
import type { BlockData, CandidateData, TubeData } from '../schema/candidate-schema.ts';
import { isYes } from '../schema/values.ts';
import type { Path } from '../text.ts';
import { DIMENSION } from '../units.ts';
import { readAxis, writeAxis } from './axes.ts';
import { addMass, addShape, type Draft } from './draft.ts';
import { kept } from './kept.ts';
import { unknown } from './names.ts';
import { readPoint, slotsOf, stationAt } from './points.ts';
import { amountOrNone, defaultAmount, note, readAmount, readAmounts } from './reader.ts';
import { readSection } from './sections.ts';

/** Spread of a computed tube mass: wall tolerance of drawn tube, about ±8 % as rectangular; default, from memory. */
const TUBE_SPREAD = 0.046;
/** Spread of a block's mass: `fill` is an estimate; default, from memory. */
const BLOCK_SPREAD = 0.15;

export interface MemberDraft extends Member {
  readonly path: number[];
  readonly filePath: Path;
  readonly massElement: number;
  /** Slot of the cut-out at each end, -1 for none: set by the joints, read by the shape writers. */
  readonly cut: [number, number];
}
export interface BlockDraft {
  readonly name: string;
  readonly body: number;
  readonly station: number;
  readonly material: string;
  readonly state?: string;
  /** How it bears load from its station to another; undefined for a rigid block. */
  readonly beam?: NonNullable<Block['beam']>;
  readonly filePath: Path;
}

export function readMembers(draft: Draft, data: CandidateData): { members: MemberDraft[]; blocks: BlockDraft[] } {
  const members: MemberDraft[] = [];
  const blocks: BlockDraft[] = [];
  draft.bodies.forEach((bodyName, body) => {
    const content = data.bodies[bodyName];
    if (!content) return;
    const taken = new Map<string, number>();
    const nameOf = (given: string | undefined, usual: string, path: Path): string => {
      const wanted = given ?? usual;
      const count = (taken.get(wanted) ?? 0) + 1;
      taken.set(wanted, count);
      if (count > 1 && given)
        note(
          draft.reader,
          [...path, 'name'],
          'value',
          'name.duplicate',
          `body ${bodyName} has two members \`${given}\``,
          {
            found: given,
            hint: 'give each its own name',
          },
        );
      return count > 1 ? `${wanted}_${count}` : wanted;
    };
    (content.tubes ?? []).forEach((tube, i) => {
      const path = ['bodies', bodyName, 'tubes', i];
      const member = readTube(draft, body, tube, path, nameOf(tube.name, `${tube.from}_to_${tube.to}`, path));
      if (member) members.push(member);
    });
    (content.blocks ?? []).forEach((block, i) => {
      const path = ['bodies', bodyName, 'blocks', i];
      blocks.push(readBlock(draft, body, block, path, nameOf(block.name, `${block.at}_block`, path)));
    });
  });
  return { members, blocks };
}

function readTube(draft: Draft, body: number, tube: TubeData, filePath: Path, name: string): MemberDraft | undefined {
  const { reader, points } = draft;
  const full = `${draft.bodies[body]}.${name}`;
  const via = (tube.via ?? []).map((corner, k) =>
    typeof corner === 'string'
      ? stationAt(reader, points, corner, [...filePath, 'via', k])
      : readPoint(reader, points, `${full} corner ${k + 1}`, corner, [...filePath, 'via', k]),
  );
  const path = [
    stationAt(reader, points, tube.from, [...filePath, 'from']),
    ...via,
    stationAt(reader, points, tube.to, [...filePath, 'to']),
  ];
  const section = readSection(reader, [...filePath, 'section'], tube.section);
  const material = materialOf(draft, [...filePath, 'material'], tube.material);
  checkState(draft, filePath, material, tube.state);
  checkDetail(draft, [...filePath, 'detail'], material, tube.detail);
  const weldable = material?.weldable ?? true;
  const welded = tube.welded === undefined ? weldable : isYes(tube.welded);
  if (welded && !weldable)
    note(reader, [...filePath, 'welded'], 'value', 'value.choice', `${tube.material} is not joined by welding`, {
      expected: 'welded: no',
      found: 'welded: yes',
      hint: 'leave it out for bonded or bolted ends, or choose a material that can be welded',
    });
  const bendRadius = amountOrNone(reader, [...filePath, 'bend_radius'], tube.bend_radius, DIMENSION.length);
  if (!section || path.some((p) => p < 0)) {
    reader.lost.add(full);
    return undefined;
  }
  const massElement = addMass(draft, { name: full, body, group: 'frame', spread: TUBE_SPREAD, path: filePath });
  const member: MemberDraft = {
    name: full,
    body,
    path,
    bendRadius: via.length ? bendRadius : -1,
    section,
    material: tube.material,
    welded: welded && weldable,
    ...(tube.detail === undefined ? {} : { detail: tube.detail }),
    ...(tube.state === undefined ? {} : { state: tube.state }),
    filePath,
    massElement,
    cut: [-1, -1],
  };
  const density = material?.density_kgpm3 ?? Number.NaN;
  const place = { array: 'mass', offset: 10 * massElement, length: 10 } as const;
  draft.writers.push(kept(readsOf(draft, member), [place], massWriter(member, density)));
  return member;
}

function materialOf(draft: Draft, path: Path, name: string): Material | undefined {
  const found = findMaterial(name);
  if (!found) unknown(draft.reader, path, name, materialNames(), 'material', 'material.unknown');
  return found;
}

/** A state is for plastics that list it. */
function checkState(draft: Draft, path: Path, material: Material | undefined, state: PlasticState | undefined): void {
  if (!material || state === undefined || material.states?.[state]) return;
  const known = Object.keys(material.states ?? {});
  note(draft.reader, [...path, 'state'], 'value', 'value.choice', `${material.name} has no state \`${state}\``, {
    expected: known.length ? known.join(', ') : 'no state: it is not a plastic',
    found: state,
  });
}

/** A detail has classes by family of material. */
function checkDetail(draft: Draft, path: Path, material: Material | undefined, name: string | undefined): void {
  if (name === undefined) return;
  const detail = findDetail(name);
  if (!detail) {
    unknown(draft.reader, path, name, material ? detailsFor(material.fatigueFamily) : detailNames(), 'fatigue detail');
    return;
  }
  if (!material || detail.classes[material.fatigueFamily]) return;
  note(draft.reader, path, 'value', 'value.choice', `the detail \`${name}\` has no class for ${material.name}`, {
    expected: detailsFor(material.fatigueFamily).join(', ') || 'no detail',
    found: name,
  });
}

/** All slots on which a member's form depends, cut-outs apart. */
function readsOf(draft: Draft, { path, section, bendRadius }: MemberDraft): number[] {
  const { height, width, wall, endHeight, endWidth, endWall } = section;
  return [
    ...path.flatMap((p) => slotsOf(draft.points, p)),
    height,
    width,
    wall,
    endHeight,
    endWidth,
    endWall,
    bendRadius,
  ];
}

function massWriter(member: MemberDraft, density: number) {
  const { section: slots, path, bendRadius } = member;
  const o = 10 * member.massElement;
  const points = path.map(() => [0, 0, 0] as [number, number, number]);
  const section = { shape: slots.shape, height: 0, width: 0, wall: 0, endHeight: 0, endWidth: 0, endWall: 0 };
  return (s: State): void => {
    const v = s.value;
    for (let i = 0; i < path.length; i++) for (let k = 0; k < 3; k++) points[i]![k as 0] = s.station[3 * path[i]! + k]!;
    section.height = v[slots.height]!;
    section.width = v[slots.width]!;
    section.wall = v[slots.wall]!;
    section.endHeight = slots.endHeight < 0 ? section.height : v[slots.endHeight]!;
    section.endWidth = slots.endWidth < 0 ? section.width : v[slots.endWidth]!;
    section.endWall = slots.endWall < 0 ? section.wall : v[slots.endWall]!;
    writeMemberMass(section, points, bendRadius < 0 ? 0 : v[bendRadius]!, density, s.mass, o);
  };
}

/** Shapes of all members; their cut-outs must be set by now. */
export function addMemberShapes(draft: Draft, members: readonly MemberDraft[]): void {
  for (const member of members) addTubeShapes(draft, member);
}

function addTubeShapes(draft: Draft, member: MemberDraft): void {
  const { section, path, body, filePath } = member;
  const groups = [member.name];
  const legs = path.length - 1;
  const reads = [...readsOf(draft, member), ...member.cut];
  if (legs === 1 && section.shape !== 'round') {
    const local = addShape(draft, 'box', { body, name: member.name, groups, path: filePath });
    const place = { array: 'box', offset: 15 * local, length: 15 } as const;
    draft.writers.push(kept(reads, [place], straightBoxWriter(member, 15 * local)));
    return;
  }
  const pieces = member.bendRadius < 0 ? legs : 2 * legs - 1;
  const locals = Array.from({ length: pieces }, (_, i) =>
    addShape(draft, 'capsule', {
      body,
      name: pieces === 1 ? member.name : `${member.name} (${i + 1} of ${pieces})`,
      groups,
      path: filePath,
    }),
  );
  const first = 7 * locals[0]!;
  const place = { array: 'capsule', offset: first, length: 7 * pieces } as const;
  draft.writers.push(
    legs === 1 ? straightCapsuleWriter(member, first) : kept(reads, [place], chainWriter(member, first, pieces)),
  );
}

/** Half of the largest outside size anywhere along the tube. */
function reach(v: Float64Array, s: SectionSlots): number {
  let size = Math.max(v[s.height]!, v[s.width]!);
  if (s.endHeight >= 0) size = Math.max(size, v[s.endHeight]!, v[s.endWidth]!);
  return size / 2;
}
const cutLength = (v: Float64Array, slot: number): number => (slot < 0 ? 0 : v[slot]!);

/** A cut never takes more than the piece has: what is left is then a point, in the place where the two cuts meet. */
function shares(length: number, first: number, last: number): [number, number] {
  const over = first + last > length ? length / (first + last) : 1;
  return [(first * over) / length, 1 - (last * over) / length];
}

function straightCapsuleWriter(member: MemberDraft, o: number) {
  const [a, b] = [3 * member.path[0]!, 3 * member.path[1]!];
  const { section, cut } = member;
  return (s: State): void => {
    const { station: p, value: v, capsule: out } = s;
    const dx = p[b]! - p[a]!;
    const dy = p[b + 1]! - p[a + 1]!;
    const dz = p[b + 2]! - p[a + 2]!;
    const length = Math.sqrt(dx * dx + dy * dy + dz * dz);
    const first = cutLength(v, cut[0]);
    const last = cutLength(v, cut[1]);
    const over = first + last > length ? length / (first + last) : 1;
    const t0 = (first * over) / length;
    const t1 = 1 - (last * over) / length;
    out[o] = p[a]! + t0 * dx;
    out[o + 1] = p[a + 1]! + t0 * dy;
    out[o + 2] = p[a + 2]! + t0 * dz;
    out[o + 3] = p[a]! + t1 * dx;
    out[o + 4] = p[a + 1]! + t1 * dy;
    out[o + 5] = p[a + 2]! + t1 * dz;
    out[o + 6] = reach(v, section);
  };
}

function straightBoxWriter(member: MemberDraft, o: number) {
  const [a, b] = [3 * member.path[0]!, 3 * member.path[1]!];
  const { section, cut } = member;
  return (s: State): void => {
    const { value: v, box: out } = s;
    const from = at3(s.station, a);
    const run = sub(at3(s.station, b), from);
    const length = norm(run);
    const [t0, t1] = shares(length, cutLength(v, cut[0]), cutLength(v, cut[1]));
    const along = scale(run, 1 / length);
    const { width, height } = sectionAxes(along);
    put(out, o, add(from, scale(run, (t0 + t1) / 2)));
    put(out, o + 3, along);
    put(out, o + 6, width);
    put(out, o + 9, height);
    out[o + 12] = ((t1 - t0) * length) / 2;
    out[o + 13] = Math.max(v[section.width]!, section.endWidth < 0 ? 0 : v[section.endWidth]!) / 2;
    out[o + 14] = Math.max(v[section.height]!, section.endHeight < 0 ? 0 : v[section.endHeight]!) / 2;
  };
}

function chainWriter(member: MemberDraft, first: number, pieces: number) {
  const { path, section, cut, bendRadius } = member;
  const legs = path.length - 1;
  const bent = pieces > legs;
  return (s: State): void => {
    const { value: v, capsule: out } = s;
    const r = reach(v, section);
    const radius = bent ? v[bendRadius]! : 0;
    let start = at3(s.station, 3 * path[0]!);
    let o = first;
    for (let i = 0; i < legs; i++) {
      const corner = at3(s.station, 3 * path[i + 1]!);
      const here = at3(s.station, 3 * path[i]!);
      const along = unit(sub(corner, here));
      let end = corner;
      let after = corner;
      let bulge = 0;
      let outward: Vec3 = [0, 0, 0];
      if (bent && i + 1 < legs) {
        const next = unit(sub(at3(s.station, 3 * path[i + 2]!), corner));
        const across = sub(next, along);
        const cosine = Math.max(-1, Math.min(1, along[0] * next[0] + along[1] * next[1] + along[2] * next[2]));
        // Half-angle forms: tan(θ/2) for the setback, cos(θ/2) for the sagitta R(1 − cos(θ/2)).
        const half = Math.sqrt((1 + cosine) / 2);
        const setback = radius * Math.sqrt((1 - cosine) / (1 + cosine));
        bulge = (radius * (1 - half)) / 2;
        const size = norm(across);
        outward = size > 1e-12 ? scale(across, -bulge / size) : outward;
        end = sub(corner, scale(along, setback));
        after = add(corner, scale(next, setback));
      }
      const span = norm(sub(end, start));
      const [t0, t1] =
        span > 0 ? shares(span, i === 0 ? cutLength(v, cut[0]) : 0, i === legs - 1 ? cutLength(v, cut[1]) : 0) : [0, 1];
      put(out, o, add(start, scale(sub(end, start), t0)));
      put(out, o + 3, add(start, scale(sub(end, start), t1)));
      out[o + 6] = r;
      o += 7;
      if (bent && i + 1 < legs) {
        put(out, o, add(end, outward));
        put(out, o + 3, add(after, outward));
        out[o + 6] = r + bulge;
        o += 7;
      }
      start = after;
    }
  };
}

export function put(out: Float64Array, o: number, p: Vec3): void {
  out[o] = p[0];
  out[o + 1] = p[1];
  out[o + 2] = p[2];
}

function readBlock(draft: Draft, body: number, block: BlockData, filePath: Path, name: string): BlockDraft {
  const { reader, points } = draft;
  const full = `${draft.bodies[body]}.${name}`;
  const station = stationAt(reader, points, block.at, [...filePath, 'at']);
  const size = readAmounts(reader, [...filePath, 'size'], block.size, DIMENSION.length);
  const usual = block.to !== undefined && block.to !== block.at && points.index.has(block.to) ? { to: block.to } : 'x';
  const axis = readAxis(draft, [...filePath, 'axis'], block.axis ?? usual, station);
  const offset = block.offset ? readAmounts(reader, [...filePath, 'offset'], block.offset, DIMENSION.length) : [];
  const mass = amountOrNone(reader, [...filePath, 'mass'], block.mass, DIMENSION.mass);
  const fill =
    block.fill === undefined
      ? defaultAmount(reader, [...filePath, 'fill'], 1, DIMENSION.number)
      : readAmount(reader, [...filePath, 'fill'], block.fill, DIMENSION.number);
  const material =
    block.material === undefined ? undefined : materialOf(draft, [...filePath, 'material'], block.material);
  checkState(draft, filePath, material, block.state);
  if (mass < 0 && block.material === undefined)
    note(reader, filePath, 'value', 'key.missing', `block ${full} has no mass`, {
      expected: 'material (with fill), or mass',
      hint: 'write `material: 6061-T6, fill: 35 %`, or `mass: 0.3 kg`',
    });
  const element = addMass(draft, { name: full, body, group: 'frame', spread: BLOCK_SPREAD, path: filePath });
  const local = addShape(draft, 'box', { body, name: full, groups: [full], path: filePath });
  const drawn: BlockDraft = {
    name: full,
    body,
    station,
    filePath,
    material: block.material ?? '',
    ...(block.state ? { state: block.state } : {}),
    ...blockBeam(draft, block, filePath, full),
  };
  if (station < 0) return drawn;
  const density = material?.density_kgpm3 ?? Number.NaN;
  const [o, m] = [15 * local, 10 * element];
  const axisAt = new Float64Array(3);
  const far = drawn.beam?.to ?? -1;
  const reads = [
    ...slotsOf(points, station),
    ...(far < 0 ? [] : slotsOf(points, far)),
    ...size,
    ...offset,
    ...axis.slots,
    ...(axis.origin ?? []),
    mass,
    fill,
  ];
  const places = [
    { array: 'box', offset: o, length: 15 },
    { array: 'mass', offset: m, length: 10 },
  ] as const;
  const write = (s: State): void => {
    const v = s.value;
    const [a, b, c] = [v[size[0]!]!, v[size[1]!]!, v[size[2]!]!];
    writeAxis(axis, s, axisAt, 0);
    const along = at3(axisAt, 0);
    const { width, height } = sectionAxes(along);
    const p = at3(s.station, 3 * station);
    const middle = far < 0 ? p : scale(add(p, at3(s.station, 3 * far)), 0.5);
    const centre: Vec3 = offset.length ? add(p, [v[offset[0]!]!, v[offset[1]!]!, v[offset[2]!]!]) : middle;
    writeBox(s.box, o, centre, along, width, height, a, b, c);
    writeBoxMass(s.mass, m, mass >= 0 ? v[mass]! : density * a * b * c * v[fill]!, s.box, o);
  };
  draft.writers.push(kept(reads, places, write));
  return drawn;
}

/** Section or stiffness of a block that reaches to another station. */
function blockBeam(draft: Draft, block: BlockData, filePath: Path, full: string): Pick<BlockDraft, 'beam'> {
  const { reader, points } = draft;
  const given = [block.section, block.stiffness].filter((x) => x !== undefined).length;
  const complain = (message: string, hint: string): Record<string, never> => {
    note(reader, filePath, 'value', 'value.range', `block ${full}: ${message}`, { hint });
    return {};
  };
  if (block.to === undefined)
    return given === 0
      ? {}
      : complain('a section or stiffness without its far end', 'write `to:` and the station where it ends');
  if (given !== 1)
    return complain(
      given === 0
        ? 'nothing says how stiff it is between its ends'
        : 'a section and a stiffness: one of them is enough',
      'write `section: {area: 620 mm2, side: 210000 mm4, top: 90000 mm4, twist: 160000 mm4}`, or `stiffness:`',
    );
  if (block.to === block.at) return complain('it ends where it begins', 'write another station after `to:`');
  const to = stationAt(reader, points, block.to, [...filePath, 'to']);
  if (block.stiffness) {
    const problem = stiffnessProblem(block.stiffness);
    if (problem) return complain(problem, 'give the symmetric matrix that a measurement or a finer model gave');
    return { beam: { to, stiffness: block.stiffness } };
  }
  if (block.material === undefined)
    return complain('a section needs its material', 'write `material:` beside `section:`');
  const c = block.section!;
  const moment = (field: 'side' | 'top' | 'twist') =>
    readAmount(reader, [...filePath, 'section', field], c[field], DIMENSION.secondMoment);
  return {
    beam: {
      to,
      section: {
        area: readAmount(reader, [...filePath, 'section', 'area'], c.area, DIMENSION.area),
        side: moment('side'),
        top: moment('top'),
        twist: moment('twist'),
      },
    },
  };
}

/** Why a matrix is no stiffness; undefined when it is one: symmetric, and every motion needs work. */
function stiffnessProblem(k: readonly (readonly number[])[]): string | undefined {
  for (let i = 0; i < 6; i++)
    for (let j = 0; j < i; j++)
      if (Math.abs(k[i]![j]! - k[j]![i]!) > 1e-6 * Math.sqrt(Math.abs(k[i]![i]! * k[j]![j]!)))
        return `its stiffness is not symmetric (row ${i + 1}, column ${j + 1})`;
  const l = k.map((row) => [...row]);
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = k[i]![j]!;
      for (let m = 0; m < j; m++) sum -= l[i]![m]! * l[j]![m]!;
      if (i !== j) l[i]![j] = sum / l[j]![j]!;
      else if (!(sum > 1e-12 * k[i]![i]!)) return `its stiffness resists no motion in direction ${i + 1}`;
      else l[i]![i] = Math.sqrt(sum);
    }
  }
  return undefined;
}

export function writeBox(
  out: Float64Array,
  o: number,
  centre: Vec3,
  a: Vec3,
  b: Vec3,
  c: Vec3,
  sizeA: number,
  sizeB: number,
  sizeC: number,
): void {
  put(out, o, centre);
  put(out, o + 3, a);
  put(out, o + 6, b);
  put(out, o + 9, c);
  out[o + 12] = sizeA / 2;
  out[o + 13] = sizeB / 2;
  out[o + 14] = sizeC / 2;
}

/** Mass element of the box at `box[o..]`; all NaN where mass or size is impossible, so that nothing is thrown while dragging. */
export function writeBoxMass(out: Float64Array, m: number, mass: number, box: Float64Array, o: number): void {
  const size: Vec3 = [2 * box[o + 12]!, 2 * box[o + 13]!, 2 * box[o + 14]!];
  const axes: [Vec3, Vec3, Vec3] = [at3(box, o + 3), at3(box, o + 6), at3(box, o + 9)];
  const possible =
    mass >= 0 && size.every((n) => n >= 0 && n < Number.POSITIVE_INFINITY) && Number.isFinite(axes[0][0]);
  if (!possible || mass === Number.POSITIVE_INFINITY) {
    out.fill(Number.NaN, m, m + 10);
    return;
  }
  const { com, inertia } = boxMass(mass, size, at3(box, o), axes);
  out[m] = mass;
  put(out, m + 1, com);
  for (let k = 0; k < 6; k++) out[m + 4 + k] = inertia[k]!;
}
