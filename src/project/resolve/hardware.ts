/**
 * Hardware of joints: what the file gives, and what the joint shelf puts in its place.
 *
 * A file that names a `principle` gets size, mass, stiffness, preload, play and hand force from the shelf, scaled to its
 * face; anything given explicitly goes before. Preload and hand force come from one mechanism: each follows from the
 * other, and from the shelf's usual hand where neither is given. A file that names none gets only what the beam model cannot do without: the
 * stiffness of the usual principle of its kind. Slots of defaults have no text.
 */
import {
  closeLatch,
  type HELD,
  type HeldName,
  KIND,
  type KindName,
  type LatchMechanism,
  preloadFromHand,
  slides,
} from '#kernel';
import {
  type JointPrinciple,
  type OpeningWay,
  principleBox,
  principleMass,
  principlePlay,
  type StiffnessName,
  stiffnessScale,
} from '../data/joint-principle.ts';
import { findPrinciple, principleNames, usualPrinciple } from '../data/joint-shelf.ts';
import { nearestName } from '../nearest.ts';
import type { HardwareData, JointData } from '../schema/candidate-schema.ts';
import type { Amount } from '../schema/values.ts';
import type { Path } from '../text.ts';
import { DIMENSION, type Dimension } from '../units.ts';
import type { Axis } from './axes.ts';
import type { Draft } from './draft.ts';
import type { MemberDraft } from './members.ts';
import { define, fileValues, reserve } from './program.ts';
import {
  amountOr,
  amountOrNone,
  defaultAmount,
  note,
  type Reader,
  readAmount,
  shareUnit,
  usualUnit,
} from './reader.ts';
import { readBox } from './sections.ts';

/** A component in which the joint's face can open. `arm`: slot, m, of the preload about that side; -1 for pull. */
export interface HardwareOpening {
  readonly component: OpeningWay['component'];
  readonly sense: OpeningWay['sense'];
  readonly arm: number;
}
/** Slots of everything that is known about a joint's hardware; -1 where nothing is. Defaults have slots without text. */
export interface Hardware {
  readonly mass: number;
  /** Box: along the member, across it, along the axis; undefined where no shape is given. */
  readonly size: readonly [number, number, number] | undefined;
  readonly estimated: number;
  /** Rotational stiffness, N·m/rad; -1 where the joint turns freely. */
  readonly bendAcross: number;
  readonly bendAlong: number;
  readonly twist: number;
  /** N/m; -1 where it slides freely (and for a steerer, whose bearings are parts). */
  readonly pull: number;
  readonly shearAcross: number;
  readonly shearAlong: number;
  readonly preload: number;
  readonly play: number;
  readonly handForce: number;
  readonly actions: number;
  /** Name on the joint shelf as the file has it; '' where it names none. */
  readonly principle: string;
  /** Name on the shelf from which missing numbers come; '' for steerer and cranks. */
  readonly basis: string;
  /** Face in which the joint parts, m: across, along the axis; hand lever, m. -1 without principle. */
  readonly face: readonly [number, number];
  readonly lever: number;
  /** Stiffness of latch and faces in series, N/m; -1 without principle. */
  readonly stack: number;
  /** Share of the closed stiffness that is left when a face has opened; -1 where none can open. */
  readonly openShare: number;
  /** Empty unless the file names a principle, or gives `preload` or `open`, and the face can open. */
  readonly opens: readonly HardwareOpening[];
}

/** What hardware needs of its joint. */
export interface JointBase {
  readonly name: string;
  readonly kind: KindName;
  readonly held: HeldName;
  readonly a: number;
  readonly b: number;
  readonly at: readonly [number, number];
  readonly axis: Axis;
  readonly low: number;
  readonly high: number;
  readonly cutOut: number;
  readonly filePath: Path;
}

/**
 * Masses of joint hardware that the file does not give: kg, spread as share. Defaults, from memory (main hinge with latch
 * 0.30-0.65 kg, each further joint 0.10-0.30 kg). A steerer's bearings and the cranks are parts of their own.
 */
export const DEFAULT_MASS: Record<keyof typeof HELD, readonly [number, number]> = {
  latch: [0.45, 0.22],
  clamp: [0.2, 0.29],
  loop: [0.1, 0.29],
  none: [0.1, 0.29],
};
const ACTIONS: Record<keyof typeof HELD, number> = { latch: 1, clamp: 1, loop: 0, none: 0 };
/** Relative uncertainty of a size that comes from the shelf; default, from memory. */
const SHELF_SIZE = 0.2;
const STIFFNESS: readonly (readonly [StiffnessName, keyof NonNullable<HardwareData['stiffness']>, Dimension])[] = [
  ['bendAcross', 'bend_across', DIMENSION.rotationalStiffness],
  ['bendAlong', 'bend_along', DIMENSION.rotationalStiffness],
  ['twist', 'twist', DIMENSION.rotationalStiffness],
  ['pull', 'pull', DIMENSION.stiffness],
  ['shearAcross', 'shear_across', DIMENSION.stiffness],
  ['shearAlong', 'shear_along', DIMENSION.stiffness],
];
/** kN·m/rad and kN/mm of the shelf in SI: N·m/rad and N/m. */
const SI: Record<StiffnessName, number> = {
  bendAcross: 1e3,
  bendAlong: 1e3,
  twist: 1e3,
  pull: 1e6,
  shearAcross: 1e6,
  shearAlong: 1e6,
};

export function readHardware(
  draft: Draft,
  joint: JointBase,
  data: JointData,
  members: readonly MemberDraft[],
): Hardware {
  const { reader } = draft;
  const { kind, held, filePath } = joint;
  const h: HardwareData = data.hardware ?? {};
  const path = [...filePath, 'hardware'];
  const at = (field: string) => [...path, field];
  const part = filePath[1] === 'cranks' || kind === 'steerer';
  const named = h.principle === undefined ? undefined : namedPrinciple(reader, at('principle'), h.principle, joint);
  const basis = named ?? (part ? undefined : usualPrinciple(kind, held));
  const given = (field: string, raw: Amount | undefined, dimension: Dimension): number =>
    amountOrNone(reader, at(field), raw, dimension);

  const size = h.shape === undefined ? undefined : readBox(reader, at('shape'), h.shape);
  const face = basis ? readFace(draft, joint, h, at('face'), basis, members, size) : undefined;
  /** A slot that follows from the face (mm in, SI out). */
  const ofFace = (field: string, dimension: Dimension, rule: (b: number, l: number) => number): number =>
    derived(reader, at(field), dimension, face!, (b, l) => rule(1e3 * b, 1e3 * l));

  const stiff = {} as Record<StiffnessName, number>;
  for (const [name, field, dimension] of STIFFNESS) {
    const own = amountOrNone(reader, [...path, 'stiffness', field], h.stiffness?.[field], dimension);
    const shelf = basis?.stiffness[name];
    stiff[name] =
      own >= 0 || !basis || !shelf || isFree(kind, held, name)
        ? own
        : ofFace(field, dimension, (b, l) => SI[name] * shelf.typical * stiffnessScale(basis, name, b, l));
  }

  const lever =
    named && named.lever.typical > 0
      ? amountOr(reader, at('lever'), h.lever, DIMENSION.length, named.lever.typical / 1e3)
      : given('lever', h.lever, DIMENSION.length);
  const latch = named ? latchSlots(draft, joint, h, path, named, lever) : undefined;
  const handForce = latch?.handForce ?? given('hand_force', h.hand_force, DIMENSION.force);
  const preload = latch?.preload ?? given('preload', h.preload, DIMENSION.force);
  const play =
    h.play === undefined && named
      ? slides(KIND[kind])
        ? defaultAmount(reader, at('play'), named.clearance.typical / 1e3, DIMENSION.length)
        : ofFace('play', DIMENSION.angle, (b, l) => principlePlay(named, b, l))
      : given('play', h.play, slides(KIND[kind]) ? DIMENSION.length : DIMENSION.angle);

  const ways = named || h.preload !== undefined || h.open !== undefined ? (basis?.opens ?? []) : [];
  const opens = ways
    .filter((way) => stiff[way.component] >= 0)
    .map((way) => ({
      component: way.component,
      sense: way.sense,
      arm:
        way.arm === 0
          ? -1
          : ofFace('face', DIMENSION.length, (b, l) => (way.arm * (way.component === 'bendAcross' ? b : l)) / 1e3),
    }));
  return {
    mass:
      h.mass === undefined && named
        ? ofFace('mass', DIMENSION.mass, (b, l) => principleMass(named, b, l))
        : amountOr(reader, at('mass'), h.mass, DIMENSION.mass, part ? 0 : DEFAULT_MASS[held][0]),
    size:
      h.shape !== undefined
        ? size
        : named &&
          ([0, 1, 2].map((k) =>
            ofFace('shape', DIMENSION.length, (b, l) => principleBox(named, b, l)[k]! / 1e3),
          ) as unknown as [number, number, number]),
    estimated:
      h.shape === undefined && named
        ? amountOr(reader, at('estimated'), h.estimated, DIMENSION.number, SHELF_SIZE)
        : given('estimated', h.estimated, DIMENSION.number),
    ...stiff,
    preload,
    play,
    handForce,
    actions: h.actions ?? named?.actions ?? ACTIONS[held],
    principle: named?.name ?? '',
    basis: basis?.name ?? '',
    face: named || opens.length > 0 ? face! : [-1, -1],
    lever,
    stack: latch?.stack ?? -1,
    openShare:
      h.open !== undefined
        ? readAmount(reader, at('open'), h.open, DIMENSION.number)
        : opens.length > 0
          ? defaultAmount(reader, at('open'), basis!.openShare.typical, DIMENSION.number)
          : -1,
    opens,
  };
}

/** The direction in which the joint moves while riding, because nothing holds it there. */
function isFree(kind: KindName, held: HeldName, name: StiffnessName): boolean {
  if (held !== 'none' && held !== 'loop') return false;
  return slides(KIND[kind]) ? name === 'pull' : name === 'bendAcross';
}

function namedPrinciple(reader: Reader, path: Path, name: string, joint: JointBase): JointPrinciple | undefined {
  const found = findPrinciple(name);
  if (!found) {
    const near = nearestName(name, principleNames);
    note(reader, path, 'value', 'name.unknown', `no joint principle is called \`${name}\``, {
      found: name,
      expected: principleNames.join(', '),
      ...(near ? { hint: `did you mean \`${near}\`?` } : {}),
    });
    return undefined;
  }
  if (found.suits.includes(joint.kind)) return found;
  const fitting = principleNames.filter((n) => findPrinciple(n)!.suits.includes(joint.kind));
  note(reader, path, 'value', 'value.choice', `\`${name}\` is no principle for a ${joint.kind}`, {
    found: name,
    expected: fitting.length > 0 ? `one of ${fitting.join(', ')}` : `none: the bearings of a ${joint.kind} are parts`,
  });
  return undefined;
}

/** Slot of a default that follows from two other slots. */
function derived(
  reader: Reader,
  path: Path,
  dimension: Dimension,
  reads: readonly [number, number],
  rule: (first: number, second: number) => number,
): number {
  const [a, b] = reads;
  const slot = reserve(reader.program, { path, dimension, unit: usualUnit(dimension), text: '', reads });
  if (reader.broken.has(a) || reader.broken.has(b)) reader.broken.add(slot);
  define(reader.program, slot, (value) => rule(value[a]!, value[b]!), reads);
  return slot;
}

/**
 * Face as the file gives it; else what a shape of its principle would have as face (joints that turn); else the size of the
 * largest member that ends at the joint; else the reference of the principle.
 */
function readFace(
  draft: Draft,
  joint: JointBase,
  h: HardwareData,
  path: Path,
  basis: JointPrinciple,
  members: readonly MemberDraft[],
  size: Hardware['size'],
): readonly [number, number] {
  const { reader } = draft;
  if (h.face)
    return shareUnit(h.face).map((raw, k) =>
      readAmount(reader, [...path, k], raw, DIMENSION.length),
    ) as unknown as readonly [number, number];
  if (size && !slides(KIND[joint.kind]))
    return [1, 2].map((k) => {
      const [fixed, share] = basis.envelope[k]!;
      const slot = size[k]!;
      // Hardware smaller than the principle's own bolts and lugs: its face is at least half of it.
      return derived(reader, path, DIMENSION.length, [slot, slot], (x) => Math.max((x - fixed / 1e3) / share, x / 2));
    }) as unknown as readonly [number, number];
  const stations = new Set<number>(joint.at);
  const v = fileValues(reader.program);
  let best: readonly [number, number] | undefined;
  let largest = 0;
  for (const member of members) {
    if (member.body !== joint.a && member.body !== joint.b) continue;
    const last = stations.has(member.path.at(-1)!);
    if (!last && !stations.has(member.path[0]!)) continue;
    const { section: c } = member;
    const height = last && c.endHeight >= 0 ? c.endHeight : c.height;
    const width = last && c.endWidth >= 0 ? c.endWidth : c.width;
    const area = height < 0 || width < 0 ? 0 : v[height]! * v[width]!;
    if (!(area > largest)) continue;
    largest = area;
    // A tube's width lies along y: under a joint axis along y it is the face's second size.
    best = isCrosswise(draft, joint.axis) ? [height, width] : [width, height];
  }
  return (
    best ??
    (basis.reference.map((x) => defaultAmount(reader, path, x / 1e3, DIMENSION.length)) as unknown as readonly [
      number,
      number,
    ])
  );
}

/** Whether the axis lies nearer to y than to the mid-plane, at the file's own dimensions. */
function isCrosswise(draft: Draft, axis: Axis): boolean {
  const v = fileValues(draft.reader.program);
  const [x, y, z] = axis.slots.map((slot, k) => v[slot]! - (axis.origin ? v[axis.origin[k]!]! : 0)) as [
    number,
    number,
    number,
  ];
  return y * y > x * x + z * z;
}

interface LatchSlots {
  readonly preload: number;
  readonly handForce: number;
  readonly stack: number;
}
function latchSlots(
  draft: Draft,
  joint: JointBase,
  h: HardwareData,
  path: Path,
  principle: JointPrinciple,
  lever: number,
): LatchSlots {
  const { reader } = draft;
  const at = (field: string) => [...path, field];
  const stack = defaultAmount(reader, at('principle'), principle.stack.typical * 1e3, DIMENSION.stiffness);
  const { mechanism } = principle;
  const ownPreload = amountOrNone(reader, at('preload'), h.preload, DIMENSION.force);
  const ownHand = amountOrNone(reader, at('hand_force'), h.hand_force, DIMENSION.force);
  if (!mechanism || lever < 0)
    return {
      stack,
      preload: ownPreload,
      handForce:
        ownHand >= 0 ? ownHand : defaultAmount(reader, at('hand_force'), principle.hand.typical, DIMENSION.force),
    };
  const machine = (leverM: number): LatchMechanism => mechanism(1e3 * leverM, principle.stack.typical);
  const ask = (field: string, other: number, rule: (m: LatchMechanism, x: number) => number): number =>
    derived(
      reader,
      at(field),
      DIMENSION.force,
      [lever, other],
      remembered((l, x) => rule(machine(l), x)),
    );
  const found = ((): { preload: number; handForce: number } => {
    if (ownPreload >= 0)
      return {
        preload: ownPreload,
        handForce: ownHand >= 0 ? ownHand : ask('hand_force', ownPreload, (m, x) => closeLatch(m, x).handForce),
      };
    const handForce =
      ownHand >= 0 ? ownHand : defaultAmount(reader, at('hand_force'), principle.hand.typical, DIMENSION.force);
    return { handForce, preload: ask('preload', handForce, preloadFromHand) };
  })();
  explain(draft, joint, path, principle, found, lever, machine);
  return { stack, ...found };
}

/** A mechanism that cannot do what the file asks of it is told at the field that asks. */
function explain(
  draft: Draft,
  joint: JointBase,
  path: Path,
  principle: JointPrinciple,
  slots: { readonly preload: number; readonly handForce: number },
  lever: number,
  machine: (leverM: number) => LatchMechanism,
): void {
  const { reader } = draft;
  const broken = [slots.preload, slots.handForce, lever].filter((slot) => slot >= 0);
  if (broken.some((slot) => reader.broken.has(slot))) return;
  const v = fileValues(reader.program);
  const text = (slot: number): string => reader.program.slots[slot]!.text;
  const asked = [slots.preload, slots.handForce, lever].find((slot) => text(slot) !== '');
  if (asked === undefined) return;
  try {
    const m = machine(v[lever]!);
    if (text(slots.preload) !== '' && m.kind !== 'plunger') closeLatch(m, v[slots.preload]!);
    else preloadFromHand(m, v[slots.handForce]!);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    note(
      reader,
      reader.program.slots[asked]!.path,
      'value',
      'value.range',
      `the ${principle.name} of ${joint.name} cannot do this: ${error.message}`,
      {
        found: text(asked),
        expected: 'a preload, hand force and lever that fit one another',
        hint: `see ${path.join('.')}`,
      },
    );
  }
}

/** The last answer is kept: the search takes a fraction of a millisecond, and levers seldom change while a frame does. NaN where there is none. */
function remembered(rule: (first: number, second: number) => number): (first: number, second: number) => number {
  let [lastA, lastB, answer] = [Number.NaN, Number.NaN, Number.NaN];
  return (a, b) => {
    if (a === lastA && b === lastB) return answer;
    lastA = a;
    lastB = b;
    try {
      answer = rule(a, b);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      answer = Number.NaN;
    }
    return answer;
  };
}
