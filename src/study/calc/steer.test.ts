import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { runCalc } from './run.ts';
import { topic } from './steer.ts';
import { topic as geometry } from './steer-geometry.ts';

const example = JSON.parse(
  readFileSync(join(import.meta.dirname, '..', '..', '..', 'examples', 'calc', 'steer.json'), 'utf8'),
) as { input: Record<string, unknown> & { rear_body: object; front_wheel: object } };

describe('calc steer', () => {
  it('takes standard gravity when none is given', () => {
    const { gravity_mps2: _, ...rest } = example.input;
    const parsed = topic.input.parse(rest);
    const out = topic.run(parsed);
    const stated = topic.run({ ...parsed, gravity_mps2: 9.80665 });
    expect(out).toEqual(stated);
    expect(out.weave_speed_mps).not.toBe(topic.run({ ...parsed, gravity_mps2: 9.81 }).weave_speed_mps);
  });

  it('reads Ixz as a tensor element with z up: the published rear body, leaning forward, has −2.4', () => {
    const parsed = topic.input.parse(example.input);
    expectWithin(topic.run(parsed).M[0][1], 2.31941332208709, { relative: 1e-13 });
    const turned = topic.run({ ...parsed, rear_body: { ...parsed.rear_body, Ixz_kgm2: 2.4 } });
    expect(Math.abs(turned.M[0][1] - 2.31941332208709)).toBeGreaterThan(0.3);
  });

  it('gives null for critical speeds that do not exist', () => {
    const parsed = topic.input.parse(example.input);
    const out = topic.run({ ...parsed, trail_m: -0.08 });
    expect(out.capsize_speed_mps).toBeNull();
  });

  it('names the field of a bicycle that cannot exist', () => {
    const input = { ...example.input, rear_body: { ...example.input.rear_body, Ixz_kgm2: 50 } };
    expect(runCalc(topic, JSON.stringify(input))).toMatchObject({
      problems: [{ code: 'calc.input', path: 'rear_body.Ixz_kgm2' }],
    });
    const upside = { ...example.input, front_wheel: { ...example.input.front_wheel, radius_m: -0.3 } };
    expect(runCalc(topic, JSON.stringify(upside))).toMatchObject({
      problems: [{ code: 'calc.input', path: 'front_wheel.radius_m' }],
    });
  });
});

describe('calc steer-geometry', () => {
  it('has no intercept for a vertical axis', () => {
    const out = geometry.run({ wheel_radius_m: 0.2, head_angle_deg: 90, fork_offset_m: 0.03 });
    expect(out.intercept_ratio).toBeNull();
    expectWithin(out.trail_m, -0.03, { absolute: 1e-15 });
  });

  it('refuses a level steer axis', () => {
    const input = { wheel_radius_m: 0.2, head_angle_deg: 180, fork_offset_m: 0.03 };
    expect(runCalc(geometry, JSON.stringify(input))).toMatchObject({ problems: [{ path: 'head_angle_deg' }] });
  });
});
