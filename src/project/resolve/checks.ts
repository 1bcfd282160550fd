/**
 * What can only be seen once the numbers are there: impossible sizes, gaps, ranges, a drive that a joint would tear.
 *
 * Every check looks at the ride posture at the file's dimensions. A number that could not be read is not complained about
 * again.
 */
import { at3, cross, developedLength, KIND, norm, type State, slides, sub, type Vec3, type Wheel } from '#kernel';
import type { Path } from '../text.ts';
import { formatQuantity } from '../units.ts';
import { axisBroken } from './axes.ts';
import type { Draft } from './draft.ts';
import type { MoveDraft } from './fold.ts';
import type { JointDraft } from './joints.ts';
import type { MemberDraft } from './members.ts';
import { note, usualUnit } from './reader.ts';

/** A gap at a joint in the ride posture above this is a loop that does not close, m. */
export const GAP = 1e-4;
/** Shorter than this is no tube, m. */
const SHORTEST = 1e-4;

const mm = (metres: number): string =>
  Number.isFinite(metres) ? formatQuantity(Number((metres * 1e3).toFixed(3)) / 1e3, 'mm') : String(metres);

/** Numbers that are NaN or infinite although everything that they are computed from is finite. */
export function checkFinite(draft: Draft, value: Float64Array): void {
  const { program, broken } = draft.reader;
  program.slots.forEach((slot, i) => {
    if (Number.isFinite(value[i]!) || broken.has(i) || slot.text === '') return;
    if (!slot.reads.every((r) => Number.isFinite(value[r]!))) return;
    note(draft.reader, slot.path, 'value', 'expression.not_finite', `\`${slot.text}\` gives no finite number`, {
      found: String(value[i]),
      expected: 'a finite number',
      hint: 'a division by zero, the root of a negative number, or a number that is too large',
    });
  });
}

/** No part of a bicycle is farther from its rear hub, m: a unit is mistyped (`1020 m`). Import draws the same line. */
const FARTHEST = 100;

// What is not finite has been told where it came from.
const isFar = (x: number): boolean => Number.isFinite(x) && Math.abs(x) > FARTHEST;

/** The first station that lies out of all reach; others mostly follow from the same number. */
export function checkReach(draft: Draft, s: State): void {
  const { names, paths } = draft.points;
  const far = names.findIndex((_, i) => [0, 1, 2].some((k) => isFar(s.station[3 * i + k]!)));
  if (far < 0) return;
  const at = [0, 1, 2].map((k) => mm(s.station[3 * far + k]!)).join(', ');
  note(draft.reader, paths[far]!, 'value', 'value.range', `${names[far]} is more than 100 m from the origin`, {
    found: `[${at}]`,
    expected: 'a place on a bicycle',
    hint: 'a unit is mistyped here or in a number that this uses: 1020 mm is 1.02 m',
  });
}

/**
 * Shapes and masses that came out without finite numbers although every number of the file is fine by itself, such as a
 * chainring without teeth. Asked last, when nothing else was found.
 */
export function checkFilled(draft: Draft, s: State): void {
  const told = new Set<string>();
  const tell = (path: Path, name: string): void => {
    if (told.has(path.join('.'))) return;
    told.add(path.join('.'));
    note(draft.reader, path, 'value', 'value.range', `${name} comes out without a finite size or mass`, {
      hint: 'one of its numbers is 0, or far too small or large',
    });
  };
  const sizes = { capsule: 7, disc: 8, box: 15 } as const;
  for (const { kind, local, path, name } of draft.shapes)
    if (!s[kind].subarray(sizes[kind] * local, sizes[kind] * (local + 1)).every(Number.isFinite)) tell(path, name);
  draft.masses.forEach(({ path, name }, i) => {
    if (!s.mass.subarray(10 * i, 10 * i + 10).every(Number.isFinite)) tell(path, name);
  });
}

export function checkMembers(draft: Draft, members: readonly MemberDraft[], s: State): void {
  const v = s.value;
  for (const member of members) {
    const { reader } = draft;
    const points = member.path.map((p) => at3(s.station, 3 * p));
    if (!points.flat().every(Number.isFinite)) continue;
    const total = points.slice(1).reduce((sum, p, i) => sum + norm(sub(p, points[i]!)), 0);
    const short = points.slice(1).findIndex((p, i) => norm(sub(p, points[i]!)) < SHORTEST);
    const names = member.path.map((p) => draft.points.names[p]!);
    if (short >= 0 || total < SHORTEST) {
      note(reader, [...member.filePath, 'to'], 'value', 'tube.zero_length', `tube ${member.name} has no length`, {
        found: `${names[short]} and ${names[short + 1]} are the same point`,
        hint: 'choose another station, or leave the tube out',
      });
      continue;
    }
    if (member.bendRadius >= 0 && Number.isFinite(v[member.bendRadius]!)) {
      const bend = v[member.bendRadius]!;
      const developed = developedLength(points, bend);
      if (developed.tooShort >= 0 || bend < 0)
        note(
          reader,
          [...member.filePath, 'bend_radius'],
          'value',
          'value.range',
          `the bends of ${member.name} do not fit`,
          {
            found: mm(bend),
            expected: `straight pieces left on both sides of each corner, also between ${names[developed.tooShort]} and ${names[developed.tooShort + 1]}`,
            hint: 'a smaller bend radius, or corners farther apart',
          },
        );
    }
    checkWall(draft, member, v);
    for (const slot of member.cut)
      if (slot >= 0 && v[slot]! > total)
        note(
          reader,
          reader.program.slots[slot]!.path,
          'value',
          'value.range',
          `cut_out is longer than ${member.name}`,
          {
            severity: 'caution',
            found: mm(v[slot]!),
            expected: `less than ${mm(total)}`,
            hint: 'nothing of the tube is left for the clearance check',
          },
        );
  }
}

function checkWall(draft: Draft, member: MemberDraft, v: Float64Array): void {
  const { section } = member;
  const ends: [number, number, number][] = [[section.height, section.width, section.wall]];
  if (section.endHeight >= 0) ends.push([section.endHeight, section.endWidth, section.endWall]);
  for (const [h, w, t] of ends) {
    const [height, width, wall] = [v[h]!, v[w]!, v[t]!];
    if (![height, width, wall].every(Number.isFinite)) continue;
    const path = [...member.filePath, 'section'];
    const half = Math.min(height, width) / 2;
    if (!(height > 0 && width > 0 && wall > 0))
      note(draft.reader, path, 'value', 'section.wall', `${member.name} has a size that is not positive`, {
        found: (height === width ? [height, wall] : [height, width, wall]).map(mm).join(' x '),
        expected: 'sizes above 0 mm',
      });
    // A solid bar is written as wall = radius; the unit conversion may leave a rounding error.
    else if (wall > half * (1 + 1e-9))
      note(draft.reader, path, 'value', 'section.wall', `the wall of ${member.name} is thicker than its radius`, {
        found: `wall ${mm(wall)}, half size ${mm(half)}`,
        expected: `a wall of at most ${mm(half)}`,
        hint: 'sizes are outside sizes; the wall comes last',
      });
  }
}

export function checkJoints(draft: Draft, joints: readonly JointDraft[], s: State): void {
  const { reader } = draft;
  const v = s.value;
  joints.forEach((joint, j) => {
    const axis = at3(s.joint, 6 * j + 3);
    const [p, q] = [at3(s.station, 3 * joint.at[0]), at3(s.station, 3 * joint.at[1])];
    if (!axis.every(Number.isFinite) && !axisBroken(draft, joint.axis) && p.every(Number.isFinite))
      note(reader, [...joint.filePath, 'axis'], 'value', 'joint.axis', `the axis of ${joint.name} has no direction`, {
        expected: 'x, y, z, or a direction that is not zero',
      });
    const gap = norm(sub(q, p));
    if (Number.isFinite(gap) && gap > GAP)
      note(
        reader,
        [...joint.filePath, 'at'],
        'value',
        'joint.gap',
        `joint ${joint.name} does not close: ${draft.points.names[joint.at[0]]} and ${draft.points.names[joint.at[1]]} are ${mm(gap)} apart`,
        {
          found: mm(gap),
          expected: `at most ${mm(GAP)}`,
          hint: `apart by [${sub(q, p).map(mm).join(', ')}]; move one of the two stations`,
        },
      );
    const [low, high] = [v[joint.low]!, v[joint.high]!];
    const field = slides(KIND[joint.kind]) ? 'travel' : 'turn';
    if (Number.isFinite(low) && Number.isFinite(high) && !(low <= 0 && 0 <= high))
      note(
        reader,
        [...joint.filePath, field],
        'value',
        'value.range',
        `the range of ${joint.name} leaves out the ride posture`,
        {
          found: `[${show(draft, joint.low, low)}, ${show(draft, joint.high, high)}]`,
          expected: 'least ≤ 0 ≤ most: every joint stands at 0 while riding',
        },
      );
    checkHardware(draft, joint, v);
  });
}

function checkHardware(draft: Draft, joint: JointDraft, v: Float64Array): void {
  const h = joint.hardware;
  const positive: [number, string][] = [
    ...(h.size ?? []).map((slot): [number, string] => [slot, 'size']),
    ...h.face.map((slot): [number, string] => [slot, 'face']),
    [h.lever, 'lever'],
    [h.bendAcross, 'stiffness'],
    [h.bendAlong, 'stiffness'],
    [h.twist, 'stiffness'],
    [h.pull, 'stiffness'],
    [h.shearAcross, 'stiffness'],
    [h.shearAlong, 'stiffness'],
  ];
  const notNegative: [number, string][] = [
    [h.mass, 'mass'],
    [h.preload, 'preload'],
    [h.play, 'play'],
    [h.openShare, 'stiffness left when open'],
    [h.handForce, 'hand force'],
    [joint.cutOut, 'cut_out'],
    [h.estimated, 'uncertainty of its size'],
  ];
  const refuse = (slot: number, what: string, expected: string): void =>
    note(
      draft.reader,
      draft.reader.program.slots[slot]!.path,
      'value',
      'value.range',
      `${what} of ${joint.name} cannot be ${show(draft, slot, v[slot]!)}`,
      {
        found: show(draft, slot, v[slot]!),
        expected,
      },
    );
  for (const [slot, what] of positive) if (slot >= 0 && v[slot]! <= 0) refuse(slot, what, 'more than 0');
  for (const [slot, what] of notNegative) if (slot >= 0 && v[slot]! < 0) refuse(slot, what, '0 or more');
  if (h.openShare >= 0 && v[h.openShare]! > 1) refuse(h.openShare, 'stiffness left when open', '100 % or less');
  if (h.estimated >= 0 && v[h.estimated]! >= 1) refuse(h.estimated, 'uncertainty of its size', 'less than 100 %');
}

export function checkFold(draft: Draft, moves: readonly MoveDraft[], joints: readonly JointDraft[], s: State): void {
  for (const move of moves) {
    if (move.to < 0) continue;
    const joint = joints[move.joint]!;
    const to = s.value[move.to]!;
    const [low, high] = [s.value[joint.low]!, s.value[joint.high]!];
    // A nanometre, or as much of a radian, beyond the range is the rounding of its unit.
    if (to < low - 1e-9 || to > high + 1e-9)
      note(draft.reader, [...move.filePath, 'to'], 'value', 'fold.range', `${joint.name} cannot go that far`, {
        found: show(draft, move.to, to),
        expected: `between ${show(draft, joint.low, low)} and ${show(draft, joint.high, high)}`,
        hint: `widen \`${slides(KIND[joint.kind]) ? 'travel' : 'turn'}\` of ${joint.name}, or move less`,
      });
  }
}

/**
 * Cautions about moving joints between chainring and sprocket whose axis is not the crank's or the hub's: the chain would
 * change its length or be twisted. Common practice, no source.
 */
export function checkDrive(
  draft: Draft,
  between: readonly number[],
  joints: readonly JointDraft[],
  moving: ReadonlySet<number>,
  centres: readonly Vec3[],
  s: State,
  kind: string,
): void {
  for (const j of between) {
    if (!moving.has(j)) continue;
    const joint = joints[j]!;
    const p = at3(s.joint, 6 * j);
    const axis = at3(s.joint, 6 * j + 3);
    const turns = !slides(KIND[joint.kind]);
    const lateral = Math.abs(axis[1]) > Math.cos(DRIVE_ANGLE);
    const off = centres.map((c) => norm(cross(sub(c, p), axis)));
    if (turns && lateral && off.some((d) => d <= DRIVE_OFFSET)) continue;
    const nearest = Math.min(...off);
    note(
      draft.reader,
      ['drive'],
      'value',
      'drive.crosses',
      `the ${kind} crosses the moving joint ${joint.name} off its axis`,
      {
        severity: 'caution',
        found: turns ? `axis passes ${mm(nearest)} from the nearer of crank and hub` : 'the joint slides',
        expected: 'a joint about the crank or hub axis, a drive on one body, or `releasable: yes`',
        hint: 'common practice, no source: a chain that a joint bends or stretches comes off or binds',
      },
    );
  }
}
/** An axis within this of lateral, and this near to crank or hub, leaves a chain alone: 2 degrees, 10 mm; from memory. */
const DRIVE_ANGLE = 0.035;
const DRIVE_OFFSET = 0.01;

/** How far a hub may stand from the height at which its wheel rolls, m: below this the tyre's pressure decides. */
const HUB_HEIGHT = 4e-3;

/** The origin lies on the ground under the rear hub, and the hubs stand as high as their wheels roll. */
export function checkGround(draft: Draft, wheels: readonly (readonly [string, Wheel | undefined])[], s: State): void {
  const { reader, points } = draft;
  const rear = points.index.get('rear_hub');
  if (rear !== undefined && Math.abs(s.station[3 * rear]!) > GAP)
    note(reader, ['stations', 'rear_hub'], 'value', 'value.range', 'the origin lies under the rear hub: its x is 0', {
      found: mm(s.station[3 * rear]!),
      expected: 'x of 0 mm',
      hint: 'measure all stations from the ground under the rear hub',
    });
  for (const [hub, wheel] of wheels) {
    if (!wheel) continue;
    const part = points.names[wheel.station]!;
    if (part !== hub)
      note(reader, ['parts'], 'key', 'role.missing', `the wheel at ${part} should be at ${hub}`, {
        found: part,
        expected: `at: ${hub}`,
      });
    const height = s.station[3 * wheel.station + 2]!;
    const rolling = s.value[wheel.loadedRadius]!;
    if (Number.isFinite(height - rolling) && Math.abs(height - rolling) > HUB_HEIGHT)
      note(reader, ['stations', part], 'value', 'value.range', `the wheel at ${part} does not stand on the ground`, {
        severity: 'caution',
        found: `hub at ${mm(height)}`,
        expected: `about ${mm(rolling)}, the radius at which this wheel rolls under load`,
        hint: 'the ground is z = 0; steering is computed from the loaded radius',
      });
  }
}

function show(draft: Draft, slot: number, value: number): string {
  const info = draft.reader.program.slots[slot]!;
  if (!Number.isFinite(value)) return String(value);
  const unit = info.unit || usualUnit(info.dimension) || '1';
  return formatQuantity(value, unit, 9);
}
