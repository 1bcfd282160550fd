import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { topic as bolt } from './bolt.ts';
import { topic as lug } from './lug.ts';
import { runCalc } from './run.ts';
import type { CalcTopic } from './topic.ts';
import { topic as buckling } from './tube-buckling.ts';
import { topic as section } from './tube-section.ts';

const exampleOf = (name: string): Record<string, unknown> =>
  (
    JSON.parse(
      readFileSync(join(import.meta.dirname, '..', '..', '..', 'examples', 'calc', `${name}.json`), 'utf8'),
    ) as { input: Record<string, unknown> }
  ).input;
const refusal = <I, O>(topic: CalcTopic<I, O>, input: unknown): unknown =>
  runCalc(topic as CalcTopic, JSON.stringify(input));
const problem = (path: string) => ({ problems: [{ code: 'calc.input', path }] });

describe('calc tube-section', () => {
  it('names the size that is missing, foreign to the shape, or too small for the wall', () => {
    expect(refusal(section, { wall_mm: 2 })).toMatchObject(problem('od_mm'));
    expect(refusal(section, { shape: 'oval', height_mm: 40, wall_mm: 2 })).toMatchObject(problem('width_mm'));
    expect(refusal(section, { od_mm: 40, height_mm: 30, wall_mm: 2 })).toMatchObject(problem('height_mm'));
    expect(refusal(section, { od_mm: 40, wall_mm: 20.1 })).toMatchObject(problem('wall_mm'));
    expect(refusal(section, { od_mm: 40, wall_mm: 2, end: { od_mm: 3, wall_mm: 2 } })).toMatchObject(
      problem('end.wall_mm'),
    );
    expect(refusal(section, { od_mm: 40, wall_mm: 2, end: { height_mm: 3, wall_mm: 1 } })).toMatchObject(
      problem('end.height_mm'),
    );
  });

  it('takes a bar as a wall of half its size', () => {
    const out = section.run({ od_mm: 20, wall_mm: 10 });
    expectWithin(out.A_mm2, 100 * Math.PI, { relative: 1e-12 });
  });

  it('takes ν from E and G, and refuses two that contradict each other', () => {
    const both = section.run({ od_mm: 40, wall_mm: 2, E_MPa: 70_000, G_MPa: 70_000 / 2.66 });
    const stated = section.run({ od_mm: 40, wall_mm: 2, nu: 0.33 });
    expectWithin(both.shear_area_y_mm2, stated.shear_area_y_mm2, { relative: 1e-12 });
    expect(refusal(section, { od_mm: 40, wall_mm: 2, E_MPa: 70_000, G_MPa: 10_000 })).toMatchObject(problem('G_MPa'));
    const fibre = { od_mm: 40, wall_mm: 2, E_MPa: 70_000, G_MPa: 10_000, nu: 0.3 };
    expectWithin(section.run(fibre).GJ_Nmm2 ?? Number.NaN, 1e4 * section.run(fibre).J_mm4, { relative: 1e-12 });
  });

  it('weighs a taper as the cone that it is', () => {
    const out = section.run({
      od_mm: 60,
      wall_mm: 2,
      end: { od_mm: 40, wall_mm: 2 },
      length_mm: 500,
      density_kgm3: 2700,
    });
    // Area is linear in the diameter at constant wall: the mean section
    expectWithin(out.mass_kg ?? Number.NaN, Math.PI * 48 * 2 * 500 * 2.7e-6, { relative: 1e-12 });
  });
});

describe('calc tube-buckling', () => {
  const given = buckling.input.parse(exampleOf('tube-buckling'));
  it('adds up moments in both directions as one for a round tube', () => {
    const { moment_height_Nm: h = 0, moment_width_Nm: w = 0 } = given;
    const turned = buckling.run({ ...given, moment_height_Nm: Math.sqrt(h * h + w * w), moment_width_Nm: 0 });
    expectWithin(turned.use, buckling.run(given).use, { relative: 1e-12 });
  });
  it('counts a long tube’s flattening where that comes first', () => {
    const strong = { ...given, yield_MPa: 50_000, axial_N: 0, moment_height_Nm: 1000, moment_width_Nm: 0 };
    const out = buckling.run(strong);
    expectWithin(out.use, 1000 / (out.brazier_moment_Nm ?? Number.NaN), { relative: 1e-12 });
  });
  it('gives neither flattening nor dent for a box', () => {
    const { od_mm: _, ...rest } = given;
    const box = buckling.run({ ...rest, shape: 'rectangular', height_mm: 50, width_mm: 30 });
    expect(box.brazier_moment_Nm).toBeNull();
    expect(box).not.toHaveProperty('dent_N');
  });
});

describe('calc lug', () => {
  const given = lug.input.parse(exampleOf('lug'));
  it('names the size that leaves no metal, and a pin without load', () => {
    expect(refusal(lug, { ...given, e_mm: 5 })).toMatchObject(problem('e_mm'));
    expect(refusal(lug, { ...given, W_mm: 9 })).toMatchObject(problem('W_mm'));
    const { load_N: _, ...still } = given;
    expect(refusal(lug, still)).toMatchObject(problem('pin.load_N'));
    expect(refusal(lug, { ...given, pin: { ...given.pin, bore_mm: 10 } })).toMatchObject(problem('pin.bore_mm'));
    expect(refusal(lug, { ...given, pin: { ...given.pin, d_mm: 30 } })).toMatchObject(problem('pin.d_mm'));
  });
  it('takes the pin’s inner plate for the lug, and leaves out what was not asked', () => {
    const { pin, ...bare } = given;
    const stated = lug.run({ ...given, pin: { ...pin!, inner_mm: 6 } });
    expect(stated).toEqual(lug.run(given));
    expect(Object.keys(lug.run(bare))).not.toContain('pin');
  });
  it('shows the chart method beside the hand method', () => {
    const out = lug.run({ ...given, curves: { Kbru: 1.2, Kt: 0.95, Ftux_MPa: 250, elongation_pct: 3 } });
    expectWithin(out.curves?.net_tension_N ?? Number.NaN, 0.95 * out.net_tension_N, { relative: 1e-12 });
    expect(out.outside).toHaveLength(1);
  });
});

describe('calc bolt', () => {
  const given = bolt.input.parse(exampleOf('bolt'));
  it('goes from torque to preload and back', () => {
    const { torque_Nm, ...rest } = given;
    const back = bolt.run({ ...rest, preload_N: bolt.run(given).preload_N });
    expectWithin(back.torque_Nm, torque_Nm ?? Number.NaN, { relative: 1e-12 });
  });
  it('wants a torque or a preload, not both and not neither', () => {
    const { torque_Nm: _, ...rest } = given;
    expect(refusal(bolt, rest)).toMatchObject(problem('torque_Nm'));
    expect(refusal(bolt, { ...given, preload_N: 5000 })).toMatchObject(problem('torque_Nm'));
  });
  it('takes a thread by diameter and pitch, and refuses one that cannot be', () => {
    expect(bolt.run({ ...given, size: { d_mm: 6, pitch_mm: 1 } })).toEqual(bolt.run(given));
    expect(refusal(bolt, { ...given, size: { d_mm: 6, pitch_mm: 4 } })).toMatchObject(problem('size.pitch_mm'));
    expect(refusal(bolt, { ...given, size: 'M7.5' })).toMatchObject(problem('size'));
  });
  it('lists the sizes that it knows for one that it does not', () => {
    expect(refusal(bolt, { size: 'M7.5', mu_thread: 0.12, torque_Nm: 9 })).toMatchObject({
      problems: [
        { path: 'size', message: 'this is not one of the choices', expected: expect.stringContaining('"M8"') },
      ],
    });
  });

  it('opens the joint at the least preload and loads the bolt at the most', () => {
    const joint = { ...given.joint!, load_N: 9000 };
    const out = bolt.run({ ...given, joint });
    expect(out.joint?.open).toBe(true);
    expect(out.joint?.face_force_N).toBe(0);
    expect(out.joint?.bolt_force_N).toBeGreaterThan(out.preload_most_N);
    expect(refusal(bolt, { ...given, joint: { ...joint, shank_mm: 20 } })).toMatchObject(problem('joint.shank_mm'));
  });
});
