/**
 * From the checked text of a candidate to the model that the kernel computes with.
 *
 * All numbers become slots of one value program; all shapes, mass elements and joints get writers that fill a state from
 * them. The model is filled once at the file's dimensions, and what only numbers can show is checked then. Problems of
 * the whole file come in one pass; with an error among them there is no candidate.
 * Not here: disk, YAML, closing loops at other dimensions, quantities.
 */
import {
  applyWeighed,
  HELD,
  KIND,
  type Member,
  type Model,
  type State,
  setIdentity,
  type Topology,
  type WeighingCheck,
} from '#kernel';
import type { Problem } from './problems.ts';
import {
  checkDrive,
  checkFilled,
  checkFinite,
  checkFold,
  checkGround,
  checkJoints,
  checkMembers,
  checkReach,
} from './resolve/checks.ts';
import { type Draft, newDraft, type ShapeDraft } from './resolve/draft.ts';
import { readFold, readHolders, shapesNamed } from './resolve/fold.ts';
import type { Hardware } from './resolve/hardware.ts';
import { addHardware, addJointWriters, cutMembers, readJoints, withHardware } from './resolve/joints.ts';
import { readCables, readDrive, readExclusions } from './resolve/links.ts';
import { addMemberShapes, readMembers } from './resolve/members.ts';
import { findPairs } from './resolve/pairs.ts';
import type { OwnParts } from './resolve/part-values.ts';
import { cranksetOf, type PartDraft, readParts, wheelOf } from './resolve/parts.ts';
import { readDimensionsAndStations, stationAt } from './resolve/points.ts';
import type { SlotInfo } from './resolve/program.ts';
import { newReader, note, type Symbols } from './resolve/reader.ts';
import { findRoles } from './resolve/roles.ts';
import { fillOf, newStateOf, type Scaling } from './resolve/state.ts';
import { beyond, type Edge, jointsBetween, spanningTree, stillGroups } from './resolve/tree.ts';
import { readWeighings } from './resolve/weighings.ts';
import { type CandidateData, candidateSchema } from './schema/candidate-schema.ts';
import { checkStructure } from './schema/check-structure.ts';
import { isYes } from './schema/values.ts';
import type { Path, SourceDocument, Span } from './text.ts';
import { withVariant } from './variants.ts';

export interface ResolvedCandidate {
  /** `side_beam`, or `side_beam+light` for a variant. */
  readonly id: string;
  readonly name: string;
  readonly note: string;
  readonly file: string;
  readonly model: Model;
  /** The file's data with the variant's changes in place. */
  readonly data: CandidateData;
  /** What each slot of `State.value` is: its place in the file, dimension, unit as written, text. */
  readonly slots: readonly SlotInfo[];
  /** Dimensions that stand for themselves; the others follow from them and their entries of `x` are not read. */
  readonly free: readonly number[];
  /** Unit as the file writes it, one per dimension. */
  readonly displayUnits: readonly string[];
  /** Where things stand in the file. */
  readonly paths: {
    readonly stations: readonly Path[];
    readonly joints: readonly Path[];
    readonly shapes: readonly Path[];
    readonly masses: readonly Path[];
    readonly members: readonly Path[];
    readonly moves: readonly Path[];
  };
  where(path: Path, what?: 'key' | 'value'): Span;
  /** Slots of each joint's hardware, in joint order. */
  readonly hardware: readonly Hardware[];
  /** Slot of each joint's cut-out; -1 for none. */
  readonly cutOuts: readonly number[];
  readonly parts: readonly {
    readonly name: string;
    readonly id: string;
    readonly label: string;
    readonly kind: string;
    readonly source: string;
    readonly massElement: number;
    readonly station: number;
    readonly body: number;
    readonly shapes: readonly number[];
  }[];
  /** Pairs of shapes that are not checked, with the reason. */
  readonly excluded: readonly { readonly a: number; readonly b: number; readonly because: string }[];
  readonly weighed: readonly WeighingCheck[];
  readonly variants: readonly string[];
  /** Stands in the choice beside the others; false for a variant that says `competes: no`. */
  readonly competes: boolean;
}

export interface ResolveOptions {
  readonly parts?: OwnParts;
  readonly variant?: string;
  /** Name under which the candidate is known; the file's name without folder and ending when left out. */
  readonly id?: string;
}

/** A candidate file as a model. Cautions may accompany a candidate; errors never do. */
export function resolveCandidate(
  source: SourceDocument,
  options: ResolveOptions = {},
): { candidate?: ResolvedCandidate; problems: Problem[] } {
  const varied = withVariant(source, options.variant);
  if (!varied.document) return { problems: varied.problems };
  const { document } = varied;
  const { data, problems } = checkStructure(candidateSchema, document);
  if (!data) return { problems };
  const id = (options.id ?? fileName(source.file)) + (options.variant ? `+${options.variant}` : '');
  const competes = options.variant === undefined || isYes(data.variants?.[options.variant]?.competes ?? true);
  return build(document, data, id, options.parts ?? new Map(), competes);
}
const fileName = (file: string): string => file.replace(/^.*\//, '').replace(/\.ya?ml$/, '');
const failed = (problems: readonly Problem[]): boolean => problems.some((p) => p.severity === 'error');

function build(
  document: SourceDocument,
  data: CandidateData,
  id: string,
  own: OwnParts,
  competes: boolean,
): { candidate?: ResolvedCandidate; problems: Problem[] } {
  const symbols: Symbols = new Map();
  const reader = newReader(document, symbols);
  const { points, dimensions, free } = readDimensionsAndStations(reader, symbols, data);
  const crankset = cranksetOf(data, own);
  const autoCranks = crankset?.body !== undefined && !Object.hasOwn(data.bodies, 'cranks');
  const bodies = [...Object.keys(data.bodies), ...(autoCranks ? ['cranks'] : [])];
  const draft = newDraft(reader, points, bodies);
  if (bodies.length === 0)
    note(reader, ['bodies'], 'value', 'body.empty', 'the candidate has no body', { expected: 'at least one body' });

  const bases = readJoints(draft, data, autoCranks ? crankset!.body : undefined);
  addJointWriters(draft, bases);
  const { members, blocks } = readMembers(draft, data);
  cutMembers(draft, bases, members);
  const joints = withHardware(draft, data, bases, members);
  addMemberShapes(draft, members);
  const parts = readParts(draft, data, own);
  addHardware(draft, data, joints, members);
  const fold = readFold(draft, data, joints);
  reportEmptyBodies(draft, data, parts);

  const shapes = inOrder(draft.shapes);
  const shapeIndex = (shape: ShapeDraft) => shapes.indexOf(shape);
  const driven = new Set(fold.filter((m) => m.to >= 0).map((m) => m.joint));
  const edges: Edge[] = joints.map((j, i) => ({ a: j.a, b: j.b, pin: j.kind === 'pin', driven: driven.has(i) }));
  const tree = spanningTree(bodies.length, edges);
  const jointsComplete = joints.length === Object.keys(data.joints ?? {}).length + (autoCranks ? 1 : 0);
  if (jointsComplete)
    for (const body of tree.unconnected)
      note(
        reader,
        ['bodies', bodies[body]!],
        'key',
        'body.unconnected',
        `no joint ties the body \`${bodies[body]}\` to the others`,
        {
          expected: `a joint between ${bodies[body]} and another body (a pin alone leaves it free once released)`,
          hint: 'add it under joints, or move its members to another body',
        },
      );

  const wheels = { front: wheelOf(parts, 'front', shapeIndex), rear: wheelOf(parts, 'rear', shapeIndex) };
  const roles = findRoles(draft, joints, parts, tree, wheels);
  const drive = readDrive(draft, data, parts, roles.crankBody);
  const cables = readCables(draft, data);
  const holders = readHolders(draft, data, joints);
  const exclusions = readExclusions(draft, data, shapes);
  const rollsOn = shapesNamed(draft, ['folded', 'rolls_on'], data.folded?.rolls_on ?? [], shapes);
  const standsOn = shapesNamed(draft, ['folded', 'stands_on'], data.folded?.stands_on ?? [], shapes);
  const handle = readHandle(draft, data);
  const weighings = readWeighings(draft, data);

  const sizes = { bodies: bodies.length, joints: joints.length };
  const newState = newStateOf(draft, sizes);
  const scaling: { current?: Scaling } = {};
  const fill = fillOf(draft, free, scaling);
  const x = Float64Array.from(dimensions, (_, i) => reader.program.initial[i]!);
  const state = newState();
  fill(x, state);
  // Dimensions that follow from others get their value now, so that `x` shows every dimension.
  for (let i = 0; i < x.length; i++) x[i] = state.value[i]!;
  checkFinite(draft, state.value);
  checkReach(draft, state);
  checkMembers(draft, members, state);
  checkJoints(draft, joints, state);
  checkFold(draft, fold, joints, state);
  checkGround(
    draft,
    [
      ['front_hub', wheels.front],
      ['rear_hub', wheels.rear],
    ],
    state,
  );
  const between =
    drive.fromBody >= 0 && drive.toBody >= 0 && !drive.releasable
      ? jointsBetween(tree, drive.fromBody, drive.toBody)
      : [];
  const centres = [drive.fromStation, drive.toStation].filter((p) => p >= 0).map((p) => stationOf(state, p));
  checkDrive(draft, between, joints, driven, centres, state, drive.kind);
  if (!failed(reader.problems)) checkFilled(draft, state);
  if (failed(reader.problems) || !wheels.front || !wheels.rear) return { problems: reader.problems };

  const massBody = Int32Array.from(draft.masses, (m) => m.body);
  const weighed = applyWeighed(
    bodies,
    massBody,
    state.mass,
    draft.masses.map((m) => m.spread),
    weighings.map((w) => ({
      name: w.name,
      mass: state.value[w.mass]!,
      spread: w.spread < 0 ? 0 : state.value[w.spread]!,
    })),
  );
  for (const conflict of weighed.conflicts)
    note(
      reader,
      ['weighed', conflict.name],
      'value',
      'value.range',
      `the weighing of ${conflict.name} cannot be used: ${conflict.reason}`,
    );
  if (weighings.length > 0) {
    scaling.current = {
      factor: weighed.factor,
      wheelSlots: [wheels.front, wheels.rear].map((w) => ({
        element: w.massElement,
        slots: [w.mass, w.diametral, w.polar],
      })),
    };
    fill(x, state);
  }
  const found = findPairs({
    draft,
    shapes,
    joints,
    parts,
    state,
    groups: stillGroups(bodies.length, edges),
    cranks: new Set(roles.cranks < 0 ? [] : beyond(tree, roles.cranks)),
    steered: beyond(tree, roles.steerer),
    exclusions,
  });
  if (failed(reader.problems)) return { problems: reader.problems };

  const { excluded, ...pairLists } = found;
  const top: Topology = {
    names: {
      dimensions,
      stations: points.names,
      bodies,
      joints: joints.map((j) => j.name),
      shapes: shapes.map((s) => s.name),
      masses: draft.masses.map((m) => m.name),
    },
    bodyCount: bodies.length,
    parent: tree.parent,
    parentJoint: tree.parentJoint,
    order: tree.order,
    kind: Int32Array.from(joints, (j) => KIND[j.kind]),
    held: Int32Array.from(joints, (j) => HELD[j.held]),
    jointA: Int32Array.from(joints, (j) => j.a),
    jointB: Int32Array.from(joints, (j) => j.b),
    cuts: tree.cuts,
    nCapsule: draft.counts.capsule,
    nDisc: draft.counts.disc,
    nBox: draft.counts.box,
    shapeBody: Int32Array.from(shapes, (s) => s.body),
    shapeEstimated: Uint8Array.from(shapes, (s) => (s.estimated ? 1 : 0)),
    ...pairLists,
    massBody,
    massGroup: draft.masses.map((m) => m.group),
  };
  const crank = parts.find((p) => p.spec.crank);
  const model: Model = {
    top,
    x,
    newState: () => {
      const s = newState();
      for (let o = 0; o < s.bodyT.length; o += 12) setIdentity(s.bodyT, o);
      return s;
    },
    fill,
    members: members.map(
      ({ name, body, path, bendRadius, section, material, welded, detail, state }): Member => ({
        name,
        body,
        path,
        bendRadius,
        section,
        material,
        welded,
        ...(detail === undefined ? {} : { detail }),
        ...(state === undefined ? {} : { state }),
      }),
    ),
    heatTreated: bodies.map((name) => isYes(data.bodies[name]?.heat_treated)),
    blocks: blocks.map(({ filePath, ...block }) => ({
      ...block,
      shape: shapes.findIndex((shape) => shape.kind === 'box' && shape.name === block.name),
    })),
    wheels: { front: wheels.front, rear: wheels.rear },
    roles,
    drive,
    cables,
    fold: fold.map(({ kind, joint, to }) => ({ kind, joint, to })),
    holders,
    counts: {
      customParts: members.length + blocks.length,
      boughtParts: parts.length,
      fasteners: data.fasteners ?? parts.reduce((sum, p) => sum + p.spec.fasteners, 0),
      adjustments:
        parts.reduce((sum, p) => sum + p.spec.adjustments, 0) + joints.filter((j) => j.held === 'clamp').length,
      jointActions: joints.map((j) => j.hardware.actions),
    },
    massSpread: weighed.spread,
    crankLength: crank?.facts['crankLength'] ?? -1,
    rollsOn,
    standsOn,
    handle,
  };
  return {
    candidate: {
      id,
      name: data.candidate,
      note: data.note ?? '',
      file: document.file,
      model,
      data,
      slots: reader.program.slots,
      free,
      displayUnits: dimensions.map((_, i) => reader.program.slots[i]!.unit),
      paths: {
        stations: points.paths,
        joints: joints.map((j) => j.filePath),
        shapes: shapes.map((s) => s.path),
        masses: draft.masses.map((m) => m.path),
        members: members.map((m) => m.filePath),
        moves: fold.map((m) => m.filePath),
      },
      where: (path, what) => document.where(path, what),
      hardware: joints.map((j) => j.hardware),
      cutOuts: joints.map((j) => j.cutOut),
      parts: parts.map((p) => ({
        name: p.name,
        id: p.id,
        label: p.spec.label,
        kind: p.spec.kind,
        source: p.spec.source,
        massElement: p.massElement,
        station: p.station,
        body: p.body,
        shapes: p.shapes.map(shapeIndex),
      })),
      excluded,
      weighed: weighed.checks,
      variants: Object.keys(data.variants ?? {}),
      competes,
    },
    problems: reader.problems,
  };
}

/** Capsules, then discs, then boxes, each in the order of the file. */
const inOrder = (shapes: readonly ShapeDraft[]): ShapeDraft[] =>
  (['capsule', 'disc', 'box'] as const).flatMap((kind) => shapes.filter((s) => s.kind === kind));
const stationOf = (s: State, i: number): [number, number, number] => [
  s.station[3 * i]!,
  s.station[3 * i + 1]!,
  s.station[3 * i + 2]!,
];

function readHandle(draft: Draft, data: CandidateData): Model['handle'] {
  const h = data.folded?.handle;
  if (!h) return { station: -1, body: -1 };
  const body = draft.bodies.indexOf(h.body);
  if (body < 0)
    note(draft.reader, ['folded', 'handle', 'body'], 'value', 'name.unknown', `there is no body \`${h.body}\``, {
      found: h.body,
      expected: `one of ${draft.bodies.join(', ')}`,
    });
  return { station: stationAt(draft.reader, draft.points, h.at, ['folded', 'handle', 'at']), body };
}

function reportEmptyBodies(draft: Draft, data: CandidateData, parts: readonly PartDraft[]): void {
  for (const [name, body] of Object.entries(data.bodies)) {
    const has = (body.tubes?.length ?? 0) + (body.blocks?.length ?? 0) > 0;
    const used =
      has ||
      parts.some((p) => draft.bodies[p.body] === name || draft.bodies[p.host] === name) ||
      (data.parts ?? []).some((p) => p.body === name);
    if (!used)
      note(draft.reader, ['bodies', name], 'key', 'body.empty', `the body \`${name}\` has no members and no parts`, {
        hint: 'give it a tube, a block or a part, or remove it and its joints',
      });
  }
}
