/**
 * Bought parts on their bodies: shapes and mass placed at a station, wheels, cranks and rider points found among them.
 *
 * A part whose values are all plain numbers is built once and only moved with its station. A part with values that follow
 * from dimensions is built again when one of them changed. Its number of shapes must stay the same; if it does not, the
 * missing ones are NaN rather than stale.
 */
import type { State, Vec3, Wheel } from '#kernel';
import type { PartShape, PartSpec } from '../data/part-types.ts';
import { findPart, partNames, partParameters } from '../data/parts.ts';
import { nearestName } from '../nearest.ts';
import type { CandidateData, PartData } from '../schema/candidate-schema.ts';
import type { Path } from '../text.ts';
import { DIMENSION } from '../units.ts';
import { addMass, addShape, type Draft, type ShapeDraft, type Writer } from './draft.ts';
import { put } from './members.ts';
import { lookUp } from './names.ts';
import { buildPart, type OwnParts, type PartValues, partBehind, readPartValues, valuesNow } from './part-values.ts';
import { slotsOf, stationAt } from './points.ts';
import { define, fileValues, reserve } from './program.ts';
import { note, usualUnit } from './reader.ts';

export interface PartDraft {
  readonly name: string;
  readonly id: string;
  readonly spec: PartSpec;
  /** Body that carries its shapes and mass; for a crankset the body `cranks`. */
  readonly body: number;
  /** Body that the file names: for a crankset the one with the bottom bracket. */
  readonly host: number;
  readonly station: number;
  readonly filePath: Path;
  readonly massElement: number;
  readonly shapes: readonly ShapeDraft[];
  /** Slots that a wheel or crankset writes: see `FACTS`. */
  readonly facts: Readonly<Record<string, number>>;
}

type Pick = {
  read: (spec: PartSpec) => number | undefined;
  dimension: readonly [number, number, number, number, number];
};
/** Numbers of a part that others read as slots. */
const FACTS: Record<string, Pick> = {
  loadedRadius: { read: (s) => s.wheel?.loadedRadius, dimension: DIMENSION.length },
  radius: { read: (s) => s.wheel?.radius, dimension: DIMENSION.length },
  width: { read: (s) => s.wheel?.width, dimension: DIMENSION.length },
  mass: { read: (s) => (s.wheel ? s.rigid.mass : undefined), dimension: DIMENSION.mass },
  diametral: { read: (s) => s.wheel?.diametral, dimension: DIMENSION.inertia },
  polar: { read: (s) => s.wheel?.polar, dimension: DIMENSION.inertia },
  crankLength: { read: (s) => s.crank?.length, dimension: DIMENSION.length },
  ring: { read: (s) => s.crank?.ring, dimension: DIMENSION.number },
  sprocket: { read: (s) => s.crank?.sprocket, dimension: DIMENSION.number },
  pedalHalf: { read: (s) => s.pedal?.half[0], dimension: DIMENSION.length },
  chainline: { read: (s) => s.crank?.chainline, dimension: DIMENSION.length },
  hubGears: { read: (s) => s.hubGears, dimension: DIMENSION.number },
  energy: { read: (s) => s.energy, dimension: DIMENSION.number },
};

/** The crankset's entry and the body that it names; the body `cranks` hangs there. */
export const cranksetOf = (data: CandidateData, own: OwnParts): PartData | undefined =>
  data.parts?.find((p) => findPart(own.get(p.part)?.like ?? p.part)?.kind === 'crankset');

export function readParts(draft: Draft, data: CandidateData, own: OwnParts): PartDraft[] {
  const entries = (data.parts ?? []).flatMap((entry, i) => {
    const read = readEntry(draft, entry, ['parts', i], own);
    if (!read) for (const name of usualNames(entry)) draft.reader.lost.add(name);
    return read ?? [];
  });
  const linked = entries.map((entry) => ({ ...entry, slots: { ...lentTo(draft, entry, entries), ...entry.slots } }));
  // Names and kinds of shapes are settled by a look at the file's dimensions.
  const first = fileValues(draft.reader.program).slice();
  for (const e of linked)
    for (const [fact, slot] of Object.entries(e.facts))
      first[slot] = FACTS[fact]!.read(atFileValues(e, first)) ?? Number.NaN;
  for (const e of linked) checkValues(draft, e, first);
  const taken = new Map<string, number>();
  const writers: { lends: boolean; write: Writer }[] = [];
  const parts = linked.map((entry) => {
    const { part, write } = place(draft, entry, first);
    writers.push({ lends: Object.keys(entry.facts).length > 0, write });
    const count = (taken.get(part.name) ?? 0) + 1;
    taken.set(part.name, count);
    if (count > 1)
      note(draft.reader, entry.filePath, 'value', 'name.duplicate', `two parts are called \`${part.name}\``, {
        found: part.name,
        hint: `give one of them a name: \`name: ${part.name}_2\``,
      });
    return part;
  });
  // Parts that lend numbers to others (wheels, crankset) are written before those that borrow.
  draft.writers.push(...writers.filter((w) => w.lends).map((w) => w.write));
  draft.writers.push(...writers.filter((w) => !w.lends).map((w) => w.write));
  return parts;
}

/** What a part that could not be read would have been called, as far as its entry tells; its kind among them. */
function usualNames(entry: PartData): string[] {
  const meant = nearestName(entry.part, partNames()) ?? entry.part;
  const kind = meant.split(' ')[0]!;
  const end = /\b(front|rear)$/.exec(entry.part)?.[1];
  return [entry.name ?? [], kind, entry.side ? `${kind}_${entry.side}` : [], end ? `${end}_${kind}` : []].flat();
}

interface Entry extends PartValues {
  readonly entry: PartData;
  readonly filePath: Path;
  readonly like: string;
  readonly spec: PartSpec;
  readonly host: number;
  readonly body: number;
  readonly station: number;
  readonly facts: Readonly<Record<string, number>>;
}

function readEntry(draft: Draft, entry: PartData, filePath: Path, own: OwnParts): Entry | undefined {
  const { reader } = draft;
  const behind = partBehind(reader, [...filePath, 'part'], entry.part, own);
  const station = stationAt(reader, draft.points, entry.at, [...filePath, 'at']);
  if (!behind) return undefined;
  const values = readPartValues(reader, filePath, behind.like, entry);
  // Side and flags decide names and kinds of shapes; the numbers follow when the state is filled.
  const fixed = { ...behind.values, ...values.fixed };
  const spec = buildPart(behind.like, fixed);
  if (typeof spec === 'string') {
    note(reader, filePath, 'value', 'value.range', `there can be no such \`${entry.part}\`: ${spec}`);
    return undefined;
  }
  const onCranks = spec.kind === 'pedal' || spec.kind === 'crankset';
  const cranks = draft.bodies.indexOf('cranks');
  const named = entry.body === undefined ? -1 : lookUp(reader, [...filePath, 'body'], entry.body, draft.bodies, 'body');
  if (entry.body === undefined && !(spec.kind === 'pedal' && cranks >= 0)) {
    note(reader, filePath, 'value', 'key.missing', `the part \`${entry.part}\` does not say on which body it sits`, {
      expected: `body: one of ${draft.bodies.join(', ')}`,
    });
    return undefined;
  }
  const body = onCranks && cranks >= 0 && (spec.kind === 'crankset' || named < 0) ? cranks : named;
  if (body < 0 || station < 0) return undefined;
  const facts: Record<string, number> = {};
  for (const [fact, { read, dimension }] of Object.entries(FACTS))
    if (read(spec) !== undefined)
      facts[fact] = reserve(reader.program, {
        path: filePath,
        dimension,
        unit: dimension === DIMENSION.length ? 'mm' : usualUnit(dimension),
        text: '',
        reads: [],
      });
  return {
    entry,
    filePath,
    like: behind.like,
    fixed,
    slots: values.slots,
    spec,
    host: named,
    body,
    station,
    facts,
  };
}

/** Slots that other parts lend to this one: the wheel to its mudguard, the crankset to pedals and chain. */
function lentTo(draft: Draft, entry: Entry, entries: readonly Entry[]): Record<string, number[]> {
  const { reader, points } = draft;
  const crankset = entries.find((e) => e.spec.crank);
  const wheel =
    entries.find((e) => e.spec.wheel && e.station === entry.station) ??
    entries.find((e) => e.spec.wheel?.end === 'rear');
  const hub = points.index.get('rear_hub');
  const lent: Record<string, number[]> = {};
  const lend = (field: string, slot: number | undefined): void => {
    if (slot !== undefined && entry.fixed[field] === undefined) lent[field] = [slot];
  };
  for (const [field, parameter] of Object.entries(partParameters(entry.like)!)) {
    if (parameter.context === 'crank_length') lend(field, crankset?.facts['crankLength']);
    if (parameter.context === 'ring') lend(field, crankset?.facts['ring']);
    if (parameter.context === 'sprocket') lend(field, crankset?.facts['sprocket']);
    if (parameter.context === 'wheel_radius') lend(field, wheel?.facts['radius']);
    if (parameter.context === 'drive_run' && hub !== undefined && entry.fixed[field] === undefined) {
      const to = slotsOf(points, hub);
      const from = slotsOf(points, entry.station);
      lent[field] = [0, 1, 2].map((k) => {
        const info = { path: entry.filePath, dimension: DIMENSION.length, unit: 'mm', text: '', reads: [] };
        const slot = reserve(reader.program, info);
        define(reader.program, slot, (v) => v[to[k]!]! - v[from[k]!]!, [to[k]!, from[k]!]);
        return slot;
      });
    }
  }
  return lent;
}

/** The part at the file's dimensions; as its name has it where its values make no part. */
function atFileValues(e: Entry, first: Float64Array): PartSpec {
  const built = buildPart(e.like, valuesNow(e, first));
  return typeof built === 'string' ? e.spec : built;
}

/** Sizes, masses and counts are not negative, and together they make a part. */
function checkValues(draft: Draft, e: Entry, first: Float64Array): void {
  const { reader } = draft;
  const parameters = partParameters(e.like)!;
  let sound = true;
  for (const [field, slots] of Object.entries(e.slots)) {
    const { kind, meaning } = parameters[field]!;
    for (const slot of slots) {
      const { path, text } = reader.program.slots[slot]!;
      if (!Number.isFinite(first[slot]!)) sound = false;
      if (!(first[slot]! < 0) || kind === 'vector' || kind === 'direction' || kind === 'angle') continue;
      sound = false;
      note(reader, path, 'value', 'value.range', `${field} (${meaning}) cannot be negative`, {
        found: text,
        expected: '0 or more',
      });
    }
  }
  const built = sound ? buildPart(e.like, valuesNow(e, first)) : e.spec;
  if (typeof built === 'string')
    note(reader, e.filePath, 'value', 'value.range', `there can be no such \`${e.entry.part}\`: ${built}`);
}

function place(draft: Draft, e: Entry, first: Float64Array): { part: PartDraft; write: Writer } {
  const spec = atFileValues(e, first);
  const name = e.entry.name ?? usualName(spec);
  const massElement = addMass(draft, {
    name,
    body: e.body,
    group: spec.group,
    spread: spec.massSpread,
    path: e.filePath,
  });
  const shapes = spec.shapes.map((shape, i, all): ShapeDraft => {
    addShape(draft, shape.kind, {
      body: e.body,
      name: all.length === 1 || (shape.kind === 'disc' && i === 0) ? name : `${name} ${shape.name}`,
      groups: [name, `${draft.bodies[e.body]}.${name}`, `${name} ${shape.name}`],
      path: e.filePath,
    });
    return draft.shapes.at(-1)!;
  });
  const { entry, host, body, station, filePath, facts } = e;
  const part = { name, id: entry.part, spec, body, host, station, filePath, massElement, shapes, facts };
  return { part, write: writerOf(e, spec, massElement, shapes) };
}

function writerOf(e: Entry, first: PartSpec, massElement: number, shapes: readonly ShapeDraft[]): Writer {
  const inputs = Int32Array.from(Object.values(e.slots).flat());
  const last = new Float64Array(inputs.length).fill(Number.NaN);
  let spec: PartSpec | undefined = first;
  const m = 10 * massElement;
  const o = 3 * e.station;
  const facts = Object.entries(e.facts).map(([fact, slot]) => ({ read: FACTS[fact]!.read, slot }));
  return (s: State): void => {
    let same = true;
    for (let i = 0; i < inputs.length; i++) {
      const now = s.value[inputs[i]!]!;
      if (now !== last[i]) {
        last[i] = now;
        same = false;
      }
    }
    if (!same) {
      const built = buildPart(e.like, valuesNow(e, s.value));
      spec = typeof built === 'string' ? undefined : built;
    }
    if (!spec) {
      s.mass.fill(Number.NaN, m, m + 10);
      for (let i = 0; i < shapes.length; i++) writeShape(s, shapes[i]!, undefined, 0, 0, 0);
      for (let i = 0; i < facts.length; i++) s.value[facts[i]!.slot] = Number.NaN;
      return;
    }
    const x = s.station[o]!;
    const y = s.station[o + 1]!;
    const z = s.station[o + 2]!;
    const { mass, com, inertia } = spec.rigid;
    s.mass[m] = mass;
    s.mass[m + 1] = x + com[0];
    s.mass[m + 2] = y + com[1];
    s.mass[m + 3] = z + com[2];
    for (let k = 0; k < 6; k++) s.mass[m + 4 + k] = inertia[k]!;
    for (let i = 0; i < shapes.length; i++) writeShape(s, shapes[i]!, spec.shapes[i], x, y, z);
    for (let i = 0; i < facts.length; i++) s.value[facts[i]!.slot] = facts[i]!.read(spec) ?? Number.NaN;
  };
}

function writeShape(s: State, draft: ShapeDraft, shape: PartShape | undefined, x: number, y: number, z: number): void {
  if (shape?.kind !== draft.kind) {
    const [array, size] = draft.kind === 'capsule' ? [s.capsule, 7] : draft.kind === 'disc' ? [s.disc, 8] : [s.box, 15];
    array.fill(Number.NaN, size * draft.local, size * (draft.local + 1));
    return;
  }
  if (shape.kind === 'capsule') {
    const o = 7 * draft.local;
    move(s.capsule, o, shape.from, x, y, z);
    move(s.capsule, o + 3, shape.to, x, y, z);
    s.capsule[o + 6] = shape.radius;
  } else if (shape.kind === 'disc') {
    const o = 8 * draft.local;
    move(s.disc, o, shape.centre, x, y, z);
    put(s.disc, o + 3, shape.normal);
    s.disc[o + 6] = shape.radius;
    s.disc[o + 7] = shape.halfThickness;
  } else {
    const o = 15 * draft.local;
    move(s.box, o, shape.centre, x, y, z);
    for (let k = 0; k < 3; k++) put(s.box, o + 3 + 3 * k, shape.axes[k]!);
    put(s.box, o + 12, shape.half);
  }
}
function move(out: Float64Array, o: number, p: Vec3, x: number, y: number, z: number): void {
  out[o] = p[0] + x;
  out[o + 1] = p[1] + y;
  out[o + 2] = p[2] + z;
}

function usualName(spec: PartSpec): string {
  if (spec.wheel) return `${spec.wheel.end}_wheel`;
  if (spec.pedal) return `pedal_${spec.pedal.side}`;
  if (spec.kind === 'fitting' || spec.kind === 'mudguard' || spec.kind === 'rack' || spec.kind === 'brake')
    return spec.id.replaceAll(/[^a-z0-9]+/g, '_');
  return spec.kind;
}

/** The wheel at one end as the kernel reads it; undefined when there is none. */
export function wheelOf(
  parts: readonly PartDraft[],
  end: 'front' | 'rear',
  shapeIndex: (shape: ShapeDraft) => number,
): Wheel | undefined {
  const part = parts.find((p) => p.spec.wheel?.end === end);
  if (!part) return undefined;
  const slot = (fact: string) => part.facts[fact]!;
  return {
    station: part.station,
    body: part.body,
    shape: shapeIndex(part.shapes.find((s) => s.kind === 'disc')!),
    loadedRadius: slot('loadedRadius'),
    radius: slot('radius'),
    width: slot('width'),
    mass: slot('mass'),
    diametral: slot('diametral'),
    polar: slot('polar'),
    massElement: part.massElement,
  };
}
