/**
 * Joints: kind, bodies, place, axis, range, and the hardware that sits there.
 *
 * Hardware of a pivot is two boxes, one half on each body, because each half goes with its body when the joint turns;
 * hardware of other kinds is one box on the first body. Its frame: along the member of the first body that ends at the
 * joint (pointing away from that body, made square to the joint axis), across, along the axis.
 */
import { at3, KIND, norm, type State, scale, slides, sub, type Vec3 } from '#kernel';
import type { CandidateData, HardwareData, JointData } from '../schema/candidate-schema.ts';
import type { Path } from '../text.ts';
import { DIMENSION } from '../units.ts';
import { readAxis, writeAxis } from './axes.ts';
import { addMass, addShape, type Draft } from './draft.ts';
import { DEFAULT_MASS, type Hardware, type JointBase, readHardware } from './hardware.ts';
import { kept } from './kept.ts';
import { type MemberDraft, put, writeBox, writeBoxMass } from './members.ts';
import { lookUp } from './names.ts';
import { slotsOf, stationAt } from './points.ts';
import { fileValues } from './program.ts';
import { amountOrNone, defaultAmount, note, readAmount, readAmounts, shareUnit } from './reader.ts';

export interface JointDraft extends JointBase {
  readonly hardware: Hardware;
}

/** A given mass is read like a catalogue's: ±5 %, rectangular; default, from memory. */
const GIVEN_SPREAD = 0.029;

export const CRANKS: JointData = { kind: 'pivot', held: 'none', between: ['', 'cranks'], at: 'crank', axis: 'y' };

export function readJoints(draft: Draft, data: CandidateData, autoCranksOn: string | undefined): JointBase[] {
  const joints: [string, JointData][] = Object.entries(data.joints ?? {});
  if (autoCranksOn !== undefined) joints.push(['cranks', { ...CRANKS, between: [autoCranksOn, 'cranks'] }]);
  return joints.flatMap(([name, joint]) => {
    const read = readJoint(draft, name, joint, ['joints', name]);
    return read ? [read] : [];
  });
}

function readJoint(draft: Draft, name: string, joint: JointData, filePath: Path): JointBase | undefined {
  const { reader, points } = draft;
  const [a, b] = joint.between.map((body, i) =>
    lookUp(reader, [...filePath, 'between', i], body, draft.bodies, 'body'),
  ) as [number, number];
  const places = typeof joint.at === 'string' ? [joint.at] : joint.at;
  const found = places.map((place, i) =>
    stationAt(reader, points, place, typeof joint.at === 'string' ? [...filePath, 'at'] : [...filePath, 'at', i]),
  );
  const at = [found[0]!, found.at(-1)!] as const;
  const axis = readAxis(draft, [...filePath, 'axis'], joint.axis, at[0]);
  const { low, high } = readRange(draft, joint, filePath);
  const held = joint.held ?? 'none';
  const cutOut = amountOrNone(reader, [...filePath, 'cut_out'], joint.cut_out, DIMENSION.length);
  if (a >= 0 && a === b)
    note(
      reader,
      [...filePath, 'between'],
      'value',
      'joint.same_body',
      `joint ${name} connects ${draft.bodies[a]} to itself`,
      {
        found: joint.between.join(', '),
        expected: 'two different bodies',
      },
    );
  if (a < 0 || b < 0 || a === b || at.some((p) => p < 0)) {
    for (const lost of [name, `${name} hardware`, joint.kind]) reader.lost.add(lost);
    return undefined;
  }
  return { name, kind: joint.kind, held, a, b, at, axis, low, high, cutOut, filePath };
}

function readRange(draft: Draft, joint: JointData, filePath: Path): { low: number; high: number } {
  const { reader } = draft;
  const slide = slides(KIND[joint.kind]);
  const [field, other] = slide ? (['travel', 'turn'] as const) : (['turn', 'travel'] as const);
  const dimension = slide ? DIMENSION.length : DIMENSION.angle;
  if (joint[other])
    note(reader, [...filePath, other], 'key', 'key.unknown', `a ${joint.kind} has no \`${other}\``, {
      found: other,
      hint: `write \`${field}\``,
    });
  const given = joint[field];
  if (given) {
    const [low, high] = readAmounts(reader, [...filePath, field], given, dimension);
    return { low: low!, high: high! };
  }
  if (slide)
    note(reader, filePath, 'key', 'key.missing', `${joint.kind} ${filePath.at(-1)} does not say how far it travels`, {
      expected: 'travel: [least, most]',
      hint: 'write `travel: [-200 mm, 0]`',
    });
  const limit = slide ? 0 : Math.PI;
  return {
    low: defaultAmount(reader, [...filePath, field], -limit, dimension),
    high: defaultAmount(reader, [...filePath, field], limit, dimension),
  };
}

/** Adds its hardware to each joint; sizes that the file leaves out follow the members that end there. */
export const withHardware = (
  draft: Draft,
  data: CandidateData,
  joints: readonly JointBase[],
  members: readonly MemberDraft[],
): JointDraft[] =>
  joints.map((joint) => ({
    ...joint,
    hardware: readHardware(draft, joint, data.joints?.[joint.name] ?? CRANKS, members),
  }));

/** Writes point and axis of each joint, and its range. */
export function addJointWriters(draft: Draft, joints: readonly JointBase[]): void {
  joints.forEach((joint, j) => {
    const p = slotsOf(draft.points, joint.at[0]);
    draft.writers.push((s) => {
      const { value: v, joint: out } = s;
      for (let k = 0; k < 3; k++) out[6 * j + k] = v[p[k]!]!;
      writeAxis(joint.axis, s, out, 6 * j + 3);
      s.range[2 * j] = v[joint.low]!;
      s.range[2 * j + 1] = v[joint.high]!;
    });
  });
}

/** Shapes and mass elements of the hardware; `members` tells along which direction it lies. */
export function addHardware(
  draft: Draft,
  data: CandidateData,
  joints: readonly JointDraft[],
  members: readonly MemberDraft[],
): void {
  joints.forEach((joint, j) => {
    const { hardware: h, filePath } = joint;
    const given: HardwareData = data.joints?.[joint.name]?.hardware ?? {};
    const path = [...filePath, 'hardware'];
    const split = joint.kind === 'pivot';
    const bodies = split ? [joint.a, joint.b] : [joint.a];
    const spread = given.mass === undefined ? DEFAULT_MASS[joint.held][1] : GIVEN_SPREAD;
    const label = (body: number) =>
      split ? `${joint.name} hardware on ${draft.bodies[body]}` : `${joint.name} hardware`;
    const along = memberAlong(draft, joint, members);
    const offset = given.offset
      ? shareUnit(given.offset).map((raw, k) => readAmount(draft.reader, [...path, 'offset', k], raw, DIMENSION.length))
      : [];
    bodies.forEach((body, half) => {
      const element = addMass(draft, { name: label(body), body, group: 'joints', spread, path });
      const { size } = h;
      const m = 10 * element;
      if (!size) {
        draft.writers.push((s) => {
          s.mass.fill(0, m, m + 10);
          s.mass[m] = s.value[h.mass]! / bodies.length;
          put(s.mass, m + 1, at3(s.joint, 6 * j));
        });
        return;
      }
      const local = addShape(draft, 'box', {
        body,
        name: label(body),
        groups: [joint.name, `${joint.name} hardware`],
        estimated: h.estimated >= 0,
        path,
      });
      const o = 15 * local;
      const shift = split ? (half === 0 ? -0.25 : 0.25) : 0;
      const reads = [
        ...slotsOf(draft.points, joint.at[0]),
        ...joint.axis.slots,
        ...(joint.axis.origin ?? []),
        ...(along ?? []).flatMap((p) => slotsOf(draft.points, p)),
        ...size,
        ...offset,
        h.mass,
      ];
      const places = [
        { array: 'box', offset: o, length: 15 },
        { array: 'mass', offset: m, length: 10 },
      ] as const;
      const write = (s: State): void => {
        const v = s.value;
        const frame = hardwareFrame(s, j, along);
        const length = v[size[0]]!;
        const local3: Vec3 = offset.length
          ? [v[offset[0]!]! + shift * length, v[offset[1]!]!, v[offset[2]!]!]
          : [shift * length, 0, 0];
        const p = at3(s.joint, 6 * j);
        const centre: Vec3 = [0, 1, 2].map(
          (k) => p[k]! + local3[0] * frame[0][k]! + local3[1] * frame[1][k]! + local3[2] * frame[2][k]!,
        ) as unknown as Vec3;
        writeBox(s.box, o, centre, ...frame, split ? length / 2 : length, v[size[1]]!, v[size[2]]!);
        writeBoxMass(s.mass, m, v[h.mass]! / bodies.length, s.box, o);
      };
      draft.writers.push(kept(reads, places, write));
    });
  });
}

/** A butt joint's pin stands at most so far beside the ends that it joins, m. */
const BESIDE = 0.1;

const endsOf = (member: MemberDraft) => [member.path[0]!, member.path[member.path.length - 1]!] as const;
/** A station at the file's own dimensions. */
function fixedPoint(draft: Draft, station: number): Vec3 {
  const v = fileValues(draft.reader.program);
  return slotsOf(draft.points, station).map((slot) => v[slot]!) as unknown as Vec3;
}

/**
 * The far and near stations of the first body's member that ends at the joint, or, where the pin stands beside it, that butts
 * there against a member of the other body; undefined when none does.
 */
function memberAlong(
  draft: Draft,
  joint: JointDraft,
  members: readonly MemberDraft[],
): readonly [number, number] | undefined {
  const endingAt = (station: number): readonly [number, number] | undefined => {
    for (const member of members) {
      if (member.body !== joint.a) continue;
      const p = member.path;
      if (p.at(-1) === station) return [p.at(-2)!, p.at(-1)!];
      if (p[0] === station) return [p[1]!, p[0]!];
    }
    return undefined;
  };
  const own = endingAt(joint.at[0]);
  if (own) return own;
  const at = fixedPoint(draft, joint.at[0]);
  let nearest: number | undefined;
  let least = BESIDE;
  for (const member of members)
    for (const station of member.body === joint.b ? endsOf(member) : []) {
      const away = norm(sub(fixedPoint(draft, station), at));
      if (away < least && endingAt(station)) [nearest, least] = [station, away];
    }
  return nearest === undefined ? undefined : endingAt(nearest);
}

function hardwareFrame(s: State, j: number, member: readonly [number, number] | undefined): [Vec3, Vec3, Vec3] {
  const axis = at3(s.joint, 6 * j + 3);
  const tries: Vec3[] = [
    ...(member ? [sub(at3(s.station, 3 * member[1]), at3(s.station, 3 * member[0]))] : []),
    [1, 0, 0],
    [0, 1, 0],
  ];
  for (const d of tries) {
    const dot = d[0] * axis[0] + d[1] * axis[1] + d[2] * axis[2];
    const square = sub(d, scale(axis, dot));
    const length = norm(square);
    // A member within about 6 degrees of the axis gives no usable direction.
    if (!(length > 0.1 * norm(d))) continue;
    const along = scale(square, 1 / length);
    const across: Vec3 = [
      axis[1] * along[2] - axis[2] * along[1],
      axis[2] * along[0] - axis[0] * along[2],
      axis[0] * along[1] - axis[1] * along[0],
    ];
    return [along, across, axis];
  }
  const none: Vec3 = [Number.NaN, Number.NaN, Number.NaN];
  return [none, none, none];
}

/**
 * Sets the cut-out of members that end at a joint, in the ride posture at the file's dimensions: at its station on their
 * own body; nearer to it than the cut-out; or, beside its pin, butt against a member of the other body (both ends at one
 * station). Without the last rule two beams beside whose ends a hinge pin stands would touch in the ride posture and
 * leave the check, just where they must not clash when folded.
 */
export function cutMembers(draft: Draft, joints: readonly JointBase[], members: readonly MemberDraft[]): void {
  const v = fileValues(draft.reader.program);
  for (const joint of joints) {
    if (joint.cutOut < 0) continue;
    const reach = v[joint.cutOut]!;
    const ends = [joint.a, joint.b].map(
      (body) => new Set(members.filter((m) => m.body === body).flatMap((m) => endsOf(m))),
    );
    for (const member of members) {
      if (member.body !== joint.a && member.body !== joint.b) continue;
      const side = member.body === joint.a ? 0 : 1;
      const at = joint.at[side];
      endsOf(member).forEach((station, end) => {
        const away = norm(sub(fixedPoint(draft, station), fixedPoint(draft, at)));
        const butts = ends[1 - side]!.has(station) && away < BESIDE;
        if (station === at || away < reach || butts) member.cut[end as 0 | 1] = joint.cutOut;
      });
    }
  }
}
