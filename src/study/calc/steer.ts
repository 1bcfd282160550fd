import { z } from 'zod';
import {
  capsizeSpeed,
  characteristic,
  eigenvalues,
  type RigidMass,
  STANDARD_GRAVITY,
  SteerRefusal,
  weaveSpeed,
  whipple,
} from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const wheel = (which: string) =>
  z
    .strictObject({
      radius_m: z.number().positive().describe('Rolling radius, m'),
      mass_kg: z.number().nonnegative().describe('Mass, kg'),
      Ixx_kgm2: z.number().nonnegative().describe('Moment of inertia about a diameter, kg·m²'),
      Iyy_kgm2: z.number().nonnegative().describe('Moment of inertia about the axle, kg·m²'),
    })
    .describe(which);

const body = (which: string) =>
  z
    .strictObject({
      x_m: z.number().describe('Centre of mass ahead of the rear contact point, m'),
      z_m: z.number().describe('Centre of mass above the ground, m'),
      mass_kg: z.number().nonnegative().describe('Mass, kg'),
      Ixx_kgm2: z.number().nonnegative().describe('Inertia about the forward axis through the centre of mass, kg·m²'),
      Ixz_kgm2: z.number().describe('Tensor element −∫xz dm about the centre of mass, z up, kg·m²'),
      Izz_kgm2: z.number().nonnegative().describe('Inertia about the vertical axis through the centre of mass, kg·m²'),
    })
    .describe(which);

const input = z.strictObject({
  wheelbase_m: z.number().positive().describe('Wheelbase, m'),
  trail_m: z.number().describe('Trail on the ground, positive when the contact lies behind the steer axis, m'),
  head_angle_deg: z.number().gt(0).lt(180).describe('Angle between steer axis and ground, deg'),
  gravity_mps2: z.number().positive().optional().describe('Gravity, m/s²; 9.80665 if absent'),
  rear_wheel: wheel('Rear wheel'),
  rear_body: body('Rear frame with everything rigidly on it, rider included; wheel excluded. ISO 8855 axes'),
  front_body: body('Fork, handlebar and everything that steers; wheel excluded. ISO 8855 axes'),
  front_wheel: wheel('Front wheel'),
  speeds_mps: z.array(z.number().nonnegative()).max(10_000).describe('Forward speeds, m/s'),
});

const matrix = (meaning: string) =>
  z.tuple([z.tuple([z.number(), z.number()]), z.tuple([z.number(), z.number()])]).describe(meaning);
const four = (meaning: string) => z.tuple([z.number(), z.number(), z.number(), z.number()]).describe(meaning);

const output = z.strictObject({
  M: matrix('Mass matrix, kg·m², for [lean, steer], both positive to the right'),
  C1: matrix('Damping per unit speed, kg·m'),
  K0: matrix('Stiffness per unit gravity, kg·m'),
  K2: matrix('Stiffness per unit speed squared, kg'),
  eigenvalues: z.array(
    z.strictObject({
      speed_mps: z.number().describe('Forward speed, m/s'),
      re: four('Real parts, largest first, 1/s'),
      im: four('Imaginary parts, +im first in a conjugate pair, rad/s'),
    }),
  ),
  weave_speed_mps: z
    .number()
    .nullable()
    .describe('Lowest speed at which an unstable complex pair turns stable, m/s; null when none'),
  capsize_speed_mps: z
    .number()
    .nullable()
    .describe('Lowest speed at which a stable real eigenvalue turns unstable, m/s; null when none'),
});

type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

const rigid = (b: Input['rear_body']): RigidMass => ({
  mass: b.mass_kg,
  com: [b.x_m, 0, b.z_m],
  inertia: [b.Ixx_kgm2, NaN, b.Izz_kgm2, 0, b.Ixz_kgm2, 0], // Iyy does not enter the linear model
});
const wheelOf = (w: Input['rear_wheel']) => ({ radius: w.radius_m, mass: w.mass_kg, Ixx: w.Ixx_kgm2, Iyy: w.Iyy_kgm2 });

/** The kernel's field names in this topic's spelling. */
const PATHS: Readonly<Record<string, string>> = {
  wheelbase: 'wheelbase_m',
  trail: 'trail_m',
  headAngle: 'head_angle_deg',
  gravity: 'gravity_mps2',
  rearWheel: 'rear_wheel',
  rearBody: 'rear_body',
  frontBody: 'front_body',
  frontWheel: 'front_wheel',
  radius: 'radius_m',
  mass: 'mass_kg',
  x: 'x_m',
  z: 'z_m',
  Ixx: 'Ixx_kgm2',
  Iyy: 'Iyy_kgm2',
  Ixz: 'Ixz_kgm2',
  Izz: 'Izz_kgm2',
};

/** Matrices and eigenvalues of the linearised bicycle. */
export const topic: CalcTopic<Input, Output> = {
  name: 'steer',
  meaning: 'lean and steer dynamics of a rigid bicycle with rider: matrices, eigenvalues, weave and capsize speeds',
  method:
    'Carvallo–Whipple model, Meijaard, Papadopoulos, Ruina & Schwab 2007, Proc. R. Soc. A 463:1955–1982, Appendix A',
  input,
  output,
  run(given) {
    try {
      const system = whipple({
        wheelbase: given.wheelbase_m,
        trail: given.trail_m,
        headAngle: (given.head_angle_deg * Math.PI) / 180,
        gravity: given.gravity_mps2 ?? STANDARD_GRAVITY,
        rearWheel: wheelOf(given.rear_wheel),
        rearBody: rigid(given.rear_body),
        frontBody: rigid(given.front_body),
        frontWheel: wheelOf(given.front_wheel),
      });
      const p = characteristic(system);
      const roots = new Float64Array(8);
      const two = ([a, b, c, d]: readonly [number, number, number, number]): Output['M'] => [
        [a, b],
        [c, d],
      ];
      return {
        M: two(system.M),
        C1: two(system.C1),
        K0: two(system.K0),
        K2: two(system.K2),
        eigenvalues: given.speeds_mps.map((speed, i) => {
          const end = eigenvalues(p, speed, roots);
          if (!end.converged)
            throw new CalcRefusal(`no eigenvalues at ${speed} m/s: ${end.reason}`, `speeds_mps.${i}`, {
              residual: end.residual,
            });
          return {
            speed_mps: speed,
            re: [roots[0]!, roots[2]!, roots[4]!, roots[6]!],
            im: [roots[1]!, roots[3]!, roots[5]!, roots[7]!],
          };
        }),
        weave_speed_mps: weaveSpeed(p),
        capsize_speed_mps: capsizeSpeed(p),
      };
    } catch (error) {
      if (!(error instanceof SteerRefusal)) throw error;
      throw new CalcRefusal(
        error.message,
        error.path
          .split('.')
          .map((key) => PATHS[key] ?? key)
          .join('.'),
      );
    }
  },
};
