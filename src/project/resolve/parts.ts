/**
 * Bought parts on their bodies: shapes and mass placed at a station, wheels, cranks and rider points found among them.
 *
 * A part whose values are all plain numbers is built once and only moved with its station. A part with values that follow
 * from dimensions is built again when one of them changed. Its number of shapes must stay the same; if it does not, the
 * missing ones are NaN rather than stale.
 */
import type { State, Vec3, Wheel } from '#kernel';
import type { Overrides, PartShape, PartSpec } from '../data/part-types.ts';
import { partParameters } from '../data/parts.ts';
import type { CandidateData, PartData } from '../schema/candidate-schema.ts';
import type { Path } from '../text.ts';
import { DIMENSION } from '../units.ts';
import { addMass, addShape, type Draft, type ShapeDraft } from './draft.ts';
import { put } from './members.ts';
import { lookUp } from './names.ts';
import { findPart, type OwnParts, type PartValues, partBehind, readPartValues, valuesNow } from './part-values.ts';
import { slotsOf, stationAt } from './points.ts';
import { reserve } from './program.ts';
import { note } from './reader.ts';

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
};

/** The crankset's entry and the body that it names; the body `cranks` hangs there. */
export const cranksetOf = (data: CandidateData, own: OwnParts): PartData | undefined =>
  data.parts?.find((p) => findPart(own.get(p.part)?.like ?? p.part)?.kind === 'crankset');

export function readParts(draft: Draft, data: CandidateData, own: OwnParts): PartDraft[] {
  const entries = (data.parts ?? []).map((entry, i) => readEntry(draft, entry, ['parts', i], own));
  const context = contextOf(draft, entries);
  const taken = new Map<string, number>();
  return entries.flatMap((entry) => {
    if (!entry) return [];
    const part = place(draft, entry, context);
    const count = (taken.get(part.name) ?? 0) + 1;
    taken.set(part.name, count);
    if (count > 1)
      note(draft.reader, entry.filePath, 'value', 'name.duplicate', `two parts are called \`${part.name}\``, {
        found: part.name,
        hint: `give one of them a name: \`name: ${part.name}_2\``,
      });
    return [part];
  });
}

interface Entry {
  readonly entry: PartData;
  readonly filePath: Path;
  readonly like: string;
  readonly base: Overrides;
  readonly values: PartValues;
  readonly spec: PartSpec;
  readonly host: number;
  readonly body: number;
  readonly station: number;
}

function readEntry(draft: Draft, entry: PartData, filePath: Path, own: OwnParts): Entry | undefined {
  const { reader } = draft;
  const behind = partBehind(reader, [...filePath, 'part'], entry.part, own);
  const station = stationAt(reader, draft.points, entry.at, [...filePath, 'at']);
  if (!behind) return undefined;
  const values = readPartValues(reader, filePath, behind.like, entry);
  // Side and flags decide names and kinds of shapes; the numbers follow when the state is filled.
  const spec = findPart(behind.like, { ...behind.values, ...values.fixed })!;
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
  return { entry, filePath, like: behind.like, base: behind.values, values, spec, host: named, body, station };
}

/** Values that one part lends another: the wheel to its mudguard, the crankset to pedals and chain. */
type Context = (entry: Entry, v: Float64Array) => Overrides;
function contextOf(draft: Draft, entries: readonly (Entry | undefined)[]): Context {
  const crankset = entries.find((e) => e?.spec.kind === 'crankset');
  const rear = entries.find((e) => e?.spec.wheel?.end === 'rear');
  const hub = draft.points.index.get('rear_hub');
  const now = (e: Entry, v: Float64Array) => findPart(e.like, { ...e.base, ...valuesNow(e.values, v) })!;
  return (entry, v) => {
    const lent: Record<string, number | Vec3> = {};
    const parameters = partParameters(entry.like)!;
    for (const [field, parameter] of Object.entries(parameters)) {
      if (parameter.context === 'crank_length' && crankset) lent[field] = now(crankset, v).crank!.length;
      if (parameter.context === 'ring' && crankset) lent[field] = now(crankset, v).crank!.ring;
      if (parameter.context === 'sprocket' && crankset) lent[field] = now(crankset, v).crank!.sprocket;
      if (parameter.context === 'wheel_radius') {
        const wheel = entries.find((e) => e?.spec.wheel && e.station === entry.station) ?? rear;
        if (wheel) lent[field] = now(wheel, v).wheel!.radius;
      }
      if (parameter.context === 'drive_run' && hub !== undefined) {
        const to = slotsOf(draft.points, hub);
        const from = slotsOf(draft.points, entry.station);
        lent[field] = [0, 1, 2].map((k) => v[to[k]!]! - v[from[k]!]!) as unknown as Vec3;
      }
    }
    return lent;
  };
}

function place(draft: Draft, e: Entry, context: Context): PartDraft {
  const { reader } = draft;
  const spec = e.spec;
  const name = e.entry.name ?? usualName(spec);
  const facts: Record<string, number> = {};
  for (const [fact, pick] of Object.entries(FACTS))
    if (pick.read(spec) !== undefined)
      facts[fact] = reserve(reader.program, {
        path: e.filePath,
        dimension: pick.dimension,
        unit: pick.dimension === DIMENSION.length ? 'mm' : '',
        text: '',
        reads: [],
      });
  const massElement = addMass(draft, {
    name,
    body: e.body,
    group: spec.group,
    spread: spec.massSpread,
    path: e.filePath,
  });
  const shapes = specAtFirst(draft, e, context).shapes.map((shape, i, all): ShapeDraft => {
    addShape(draft, shape.kind, {
      body: e.body,
      name: all.length === 1 || (shape.kind === 'disc' && i === 0) ? name : `${name} ${shape.name}`,
      groups: [name, `${draft.bodies[e.body]}.${name}`, `${name} ${shape.name}`],
      path: e.filePath,
    });
    return draft.shapes.at(-1)!;
  });
  draft.writers.push(writerOf(e, context, massElement, shapes, facts));
  return {
    name,
    id: e.entry.part,
    spec,
    body: e.body,
    host: e.host,
    station: e.station,
    filePath: e.filePath,
    massElement,
    shapes,
    facts,
  };
}

/** The kinds of shapes that a part has do not depend on dimensions, so a first look with whatever is known will do. */
function specAtFirst(draft: Draft, e: Entry, context: Context): PartSpec {
  const v = Float64Array.from(draft.reader.program.initial, (n) => (Number.isFinite(n) ? n : 1));
  return findPart(e.like, { ...e.base, ...context(e, v), ...valuesNow(e.values, v) })!;
}

function writerOf(
  e: Entry,
  context: Context,
  massElement: number,
  shapes: readonly ShapeDraft[],
  facts: Readonly<Record<string, number>>,
) {
  // Parts are built from numbers; this remembers for which the last one was built.
  let key: string | undefined;
  let spec = e.spec;
  const parameters = partParameters(e.like)!;
  const fixed =
    Object.keys(e.values.slots).length === 0 && Object.values(parameters).every((p) => p.context === undefined);
  const m = 10 * massElement;
  const factSlots = Object.entries(facts).map(([fact, slot]) => [FACTS[fact]!.read, slot] as const);
  return (s: State): void => {
    if (!fixed || key === undefined) {
      const given = { ...e.base, ...context(e, s.value), ...valuesNow(e.values, s.value) };
      const now = JSON.stringify(given);
      if (now !== key) {
        key = now;
        spec = findPart(e.like, given)!;
      }
    }
    const x = s.station[3 * e.station]!;
    const y = s.station[3 * e.station + 1]!;
    const z = s.station[3 * e.station + 2]!;
    const { rigid } = spec;
    s.mass[m] = rigid.mass;
    s.mass[m + 1] = x + rigid.com[0];
    s.mass[m + 2] = y + rigid.com[1];
    s.mass[m + 3] = z + rigid.com[2];
    for (let k = 0; k < 6; k++) s.mass[m + 4 + k] = rigid.inertia[k]!;
    for (let i = 0; i < shapes.length; i++) writeShape(s, shapes[i]!, spec.shapes[i], x, y, z);
    for (let i = 0; i < factSlots.length; i++) s.value[factSlots[i]![1]] = factSlots[i]![0](spec) ?? Number.NaN;
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
