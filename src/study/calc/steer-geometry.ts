import { z } from 'zod';
import { headGeometry, SteerRefusal } from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const input = z.strictObject({
  wheel_radius_m: z.number().positive().describe('Loaded radius of the front wheel, m'),
  head_angle_deg: z.number().gt(0).lt(180).describe('Angle between steer axis and ground, deg'),
  fork_offset_m: z.number().describe('Hub ahead of the steer axis, square to it, m'),
});
const output = z.strictObject({
  trail_m: z.number().describe('Trail on the ground, m'),
  mechanical_trail_m: z.number().describe('Contact point to steer axis, square to the axis, m'),
  flop_m: z.number().describe('Wheel flop factor, trail × sin × cos of the head angle, m'),
  intercept_ratio: z
    .number()
    .nullable()
    .describe(
      'Height at which the axis cuts the vertical through the hub, over the wheel radius; null when the axis is vertical',
    ),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

const PATHS: Readonly<Record<string, string>> = {
  wheelRadius: 'wheel_radius_m',
  headAngle: 'head_angle_deg',
  offset: 'fork_offset_m',
};

/** Trail and its relatives from the three numbers on a drawing. */
export const topic: CalcTopic<Input, Output> = {
  name: 'steer-geometry',
  meaning: 'trail, mechanical trail, wheel flop and axis intercept from wheel radius, head angle and fork offset',
  method:
    'trail = (r cos γ − f)/sin γ: Moore 2012, Human Control of a Bicycle, chapter 5; flop: common practice, no source',
  input,
  output,
  run(given) {
    try {
      const g = headGeometry(given.wheel_radius_m, (given.head_angle_deg * Math.PI) / 180, given.fork_offset_m);
      return {
        trail_m: g.trail,
        mechanical_trail_m: g.mechanicalTrail,
        flop_m: g.flop,
        intercept_ratio: Number.isNaN(g.interceptRatio) ? null : g.interceptRatio,
      };
    } catch (error) {
      if (!(error instanceof SteerRefusal)) throw error;
      throw new CalcRefusal(error.message, PATHS[error.path] ?? error.path);
    }
  },
};
