import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { bennett, fourBar, loop, PLANE, pivot, slide } from '../../../verification/linkage/mechanisms.ts';
import { type LinkageInput, topic } from './linkage.ts';

const drive = (input: LinkageInput, joint: number, values_deg: number[]) =>
  topic.run({ ...input, drive: { joint, values_deg } }).poses;

describe('calc linkage', () => {
  test('follows a slider-crank: the stroke is twice the crank', () => {
    const crank = 50;
    const rod = 130;
    const input = loop([
      pivot([0, 0, 0], PLANE),
      pivot([crank, 0, 0], PLANE),
      pivot([crank + rod, 0, 0], PLANE),
      slide([-1, 0, 0], [crank + rod, 0, 0]),
    ]);
    const answer = topic.run({ ...input, drive: { joint: 0, values_deg: [0, 90, 180, 360] } });
    expect(answer).toMatchObject({ mobility_count: -2, mobility_rank: 1 });
    const at = answer.poses.map((pose) => pose.joints[3]!);
    // The slide's second body is the ground: what the block moves back, the ground moves on against it.
    const closed = [0, crank + rod - Math.sqrt(rod * rod - crank * crank), 2 * crank, 0];
    closed.forEach((stroke, i) => {
      expectWithin(Math.abs(at[i]!), stroke, { absolute: 1e-9 }, i);
    });
  });

  test('counts a pivot on through full turns instead of jumping back', () => {
    const { input } = fourBar(40, 120, 80, 100, true);
    const last = drive(input, 0, [720]).at(-1)!;
    expectWithin(last.joints[1]!, -720, { absolute: 1e-9 });
    expectWithin(last.joints[3]!, 0, { absolute: 1e-9 });
  });

  test('says where it cannot close, how far it stays open, and recovers at the next value', () => {
    const { input, theta4 } = fourBar(40, 120, 80, 100, true);
    const beyond = 140 - theta4;
    const [inside, outside, again] = drive(input, 3, [120 - theta4, beyond, 100 - theta4]);
    expect([inside!.ok, outside!.ok, again!.ok]).toEqual([true, false, true]);
    expect(outside!.joints[3]).toBe(beyond);
    // The rocker's end is 64.4 mm from the crank's pivot; crank and coupler, folded upon each other, reach down to 80 mm.
    const far = Math.sqrt(80 * 80 + 100 * 100 + 2 * 80 * 100 * Math.cos((140 * Math.PI) / 180));
    expectWithin(outside!.residual_mm, 80 - far, { absolute: 1e-6 });
    expect(again!.residual_mm).toBeLessThan(1e-9);
  });

  test('drives the joint that closes the loop as well as any other', () => {
    const { input } = fourBar(40, 120, 80, 100, true);
    // Before 25.6 deg, where the rocker is at its limit and its value no longer tells the crank's.
    const byCrank = drive(input, 0, [15])[0]!.joints;
    for (const joint of [1, 2, 3]) {
      const pose = drive(input, joint, [byCrank[joint]!])[0]!;
      expect(pose.ok).toBe(true);
      pose.joints.forEach((value, i) => {
        expectWithin(value, byCrank[i]!, { absolute: 1e-8 }, { joint, i });
      });
    }
  });

  test('closes two loops at once, and finds the same posture from any of the seven joints', () => {
    const joint = (x: number, z: number, a: string, b: string) => ({
      ...pivot([x, 0, z], PLANE),
      between: [a, b] as [string, string],
    });
    const input: LinkageInput = {
      bodies: ['ground', 'crank', 'coupler', 'rocker', 'upper', 'lower'],
      ground: 'ground',
      joints: [
        joint(0, 0, 'ground', 'crank'),
        joint(10, 40, 'crank', 'coupler'),
        joint(110, 60, 'coupler', 'rocker'),
        joint(100, 0, 'ground', 'rocker'),
        joint(80, 110, 'coupler', 'upper'),
        joint(160, 130, 'upper', 'lower'),
        joint(150, 50, 'rocker', 'lower'),
      ],
    };
    const byCrank = drive(input, 0, [12])[0]!;
    expect(byCrank).toMatchObject({ ok: true });
    expect(Math.min(...byCrank.joints.map(Math.abs))).toBeGreaterThan(1);
    byCrank.joints.forEach((value, driven) => {
      drive(input, driven, [value])[0]!.joints.forEach((found, i) => {
        // Driving the slowest joint, some 5 times slower than the crank, multiplies rounding accordingly.
        expectWithin(found, byCrank.joints[i]!, { absolute: 1e-9 }, { driven, i });
      });
    });
  });

  test('moves Bennett’s loop also when its places are rounded to 0.001 mm, and says what stays open', () => {
    const { input } = bennett(100, 40, 70, 60);
    const rounded = {
      ...input,
      joints: input.joints.map((joint) => ({
        ...joint,
        at_mm: joint.at_mm.map((v) => Math.round(v * 1e3) / 1e3) as [number, number, number],
      })),
    };
    const [pose] = drive(rounded, 0, [40]);
    expect(pose!.ok).toBe(true);
    expect(pose!.residual_mm).toBeGreaterThan(1e-8);
    expect(pose!.residual_mm).toBeLessThan(1e-3);
  });

  test('moves an open chain joint by joint and closes nothing', () => {
    const input: LinkageInput = {
      bodies: ['arm', 'base', 'hand'],
      ground: 'base',
      joints: [
        { ...pivot([0, 0, 0], [0, 1, 0]), between: ['base', 'arm'] },
        { ...slide([1, 0, 0]), between: ['arm', 'hand'] },
      ],
      drive: { joint: 1, values_mm: [12.5] },
    };
    expect(topic.run(input)).toEqual({
      mobility_count: 2,
      mobility_rank: 2,
      poses: [{ joints: [0, 12.5], residual_mm: 0, ok: true }],
    });
  });

  test('gives the same answers for a drawing a thousand times as large', () => {
    const small = fourBar(40, 120, 80, 100, true).input;
    const large = fourBar(40e3, 120e3, 80e3, 100e3, true).input;
    const [a] = drive(small, 0, [100]);
    const [b] = drive(large, 0, [100]);
    b!.joints.forEach((value, i) => {
      expectWithin(value, a!.joints[i]!, { absolute: 1e-9 }, i);
    });
  });

  test('a rigid loop does not move: the drive stays open', () => {
    const triangle = loop([pivot([0, 0, 0], PLANE), pivot([60, 0, 80], PLANE), pivot([100, 0, 0], PLANE)]);
    const [still, moved] = drive(triangle, 0, [0, 5]);
    expect(still).toEqual({ joints: [0, 0, 0], residual_mm: 0, ok: true });
    expect(moved!.ok).toBe(false);
    expect(moved!.residual_mm).toBeGreaterThan(0.1);
  });

  const four = fourBar(40, 120, 80, 100, true).input;
  const changed = (change: Partial<LinkageInput>): LinkageInput => ({ ...four, ...change });
  const joint0 = (change: Partial<LinkageInput['joints'][number]>): LinkageInput['joints'] =>
    four.joints.map((joint, i) => (i === 0 ? { ...joint, ...change } : joint));
  test.each<[string, string, LinkageInput]>([
    ['a ground that is no body', 'ground', changed({ ground: 'floor' })],
    ['a body listed twice', 'bodies.4', changed({ bodies: [...four.bodies, 'b1'] })],
    ['a joint on an unknown body', 'joints.0.between.1', changed({ joints: joint0({ between: ['b0', 'x'] }) })],
    ['a joint between a body and itself', 'joints.0.between', changed({ joints: joint0({ between: ['b0', 'b0'] }) })],
    ['an axis without direction', 'joints.0.axis', changed({ joints: joint0({ axis: [0, 0, 0] }) })],
    ['a body that hangs on nothing', 'joints', changed({ bodies: [...four.bodies, 'loose'] })],
    ['a drive of no joint', 'drive.joint', changed({ drive: { joint: 9, values_deg: [1] } })],
    ['a pivot driven in mm', 'drive.values_deg', changed({ drive: { joint: 0, values_mm: [1] } })],
  ])('refuses %s and says where', (_, path, input) => {
    expect(() => topic.run(input)).toThrowError(expect.objectContaining({ path }));
  });
});
