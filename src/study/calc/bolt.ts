import { z } from 'zod';
import {
  boltedJoint,
  boltStiffness,
  COARSE_PITCH,
  clampedStiffness,
  metricThread,
  PRELOAD_SCATTER,
  PROOF_STRESS,
  type Thread,
  tighteningArm,
  tighteningStress,
} from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';
import { refusedAt } from './tube-input.ts';

const input = z.strictObject({
  size: z
    .union([
      z.enum(Object.keys(COARSE_PITCH) as [string, ...string[]]),
      z.strictObject({
        d_mm: z.number().positive().describe('Nominal diameter, mm'),
        pitch_mm: z.number().positive().describe('Pitch, mm'),
      }),
    ])
    .describe('ISO metric coarse thread by name, or diameter and pitch'),
  torque_Nm: z.number().positive().optional().describe('Tightening torque, N·m; this or preload_N'),
  preload_N: z.number().positive().optional().describe('Preload, N; this or torque_Nm'),
  mu_thread: z.number().nonnegative().describe('Friction in the thread'),
  mu_head: z.number().nonnegative().optional().describe('Friction under head or nut; as in the thread if absent'),
  head_diameter_mm: z
    .number()
    .positive()
    .optional()
    .describe('Mean diameter of the ring under head or nut, mm; 1.3 d if absent (default, from memory)'),
  scatter: z
    .number()
    .min(0)
    .lt(1)
    .optional()
    .describe('Relative scatter of preload at a given torque; 0.25 (torque wrench) if absent'),
  class: z
    .enum(Object.keys(PROOF_STRESS) as [string, ...string[]])
    .optional()
    .describe('Property class, for the proof load (from memory: check against ISO 898-1, ISO 3506-1)'),
  joint: z
    .strictObject({
      grip_mm: z.number().positive().describe('Clamped length, mm'),
      shank_mm: z.number().nonnegative().optional().describe('Plain shank within it, mm; 0 (all thread) if absent'),
      E_bolt_MPa: z.number().positive().optional().describe('Young’s modulus of the bolt, MPa; 205 000 if absent'),
      E_parts_MPa: z.number().positive().describe('Young’s modulus of the clamped parts, MPa'),
      load_N: z.number().optional().describe('Working load along the bolt, N, pulling positive; 0 if absent'),
      n: z
        .number()
        .min(0)
        .max(1)
        .optional()
        .describe('Load introduction: 1 under head and nut, 0 at the faces; 1 if absent'),
    })
    .optional()
    .describe('The joint that it clamps: parts at least 2.5 d wide'),
});
const N = (what: string) => z.number().describe(`${what}, N`);
const output = z.strictObject({
  pitch_mm: z.number().describe('Pitch, mm'),
  pitch_diameter_mm: z.number().describe('Pitch diameter d₂, mm'),
  stress_area_mm2: z.number().describe('Stress area, mm²'),
  torque_Nm: z.number().describe('Torque, N·m'),
  preload_N: N('Preload'),
  preload_least_N: N('Preload less scatter'),
  preload_most_N: N('Preload plus scatter'),
  nut_factor: z.number().describe('K = T/(F d)'),
  useful_share: z.number().describe('Share of the torque that stretches the bolt'),
  tightening_stress_MPa: z.number().describe('Von Mises stress in the thread while tightening to preload_N, MPa'),
  proof_load_N: N('Proof load of the class').optional(),
  use: z.number().optional().describe('Von Mises stress at preload_most_N over proof stress'),
  joint: z
    .strictObject({
      bolt_Npmm: z.number().describe('Stiffness of the bolt, N/mm'),
      parts_Npmm: z.number().describe('Stiffness of the clamped parts, N/mm'),
      share: z.number().describe('Share of the load that the bolt feels while the faces touch'),
      opens_at_N: N('Pull at which the faces part, at preload_least_N'),
      bolt_force_N: N('Force in the bolt under the load, at preload_most_N'),
      face_force_N: N('Force between the faces under the load, at preload_least_N'),
      open: z.boolean().describe('True where the faces have parted at preload_least_N'),
    })
    .optional()
    .describe('The joint under its load'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

const PATHS: Readonly<Record<string, string>> = {
  pitch: 'size.pitch_mm',
  diameter: 'size.d_mm',
  grip: 'joint.grip_mm',
};

function threadOf(size: Input['size']): Thread {
  if (typeof size !== 'string') return metricThread(size.d_mm, size.pitch_mm);
  return metricThread(Number(size.slice(1)), COARSE_PITCH[size] ?? Number.NaN);
}

function jointOf(joint: NonNullable<Input['joint']>, thread: Thread, least: number, most: number): Output['joint'] {
  const { grip_mm: grip, shank_mm: shank = 0, E_bolt_MPa: E = 205_000, load_N: load = 0, n = 1 } = joint;
  if (shank > grip) throw new CalcRefusal('the shank is longer than the grip', 'joint.shank_mm');
  const bolt = boltStiffness(thread, E, shank, grip - shank);
  const clamped = clampedStiffness(thread.diameter, joint.E_parts_MPa, grip);
  const loose = boltedJoint({ preload: least, bolt, clamped, n }, load);
  return {
    bolt_Npmm: bolt,
    parts_Npmm: clamped,
    share: loose.share,
    opens_at_N: loose.opensAt,
    bolt_force_N: boltedJoint({ preload: most, bolt, clamped, n }, load).boltForce,
    face_force_N: loose.faceForce,
    open: loose.open,
  };
}

/** Preload, torque and working load of a bolt. */
export const topic: CalcTopic<Input, Output> = {
  name: 'bolt',
  meaning: 'preload of a metric bolt from its torque (or back), scatter, stress, and the pull that opens its joint',
  method:
    'T = F[p/2π + μ d₂/(2 cos 30°) + μ dₙ/2] (VDI 2230-1, ISO 16047); stress area ISO 898-1; joint as springs in parallel with 30° cones (Shigley). From memory',
  input,
  output,
  run(given) {
    if ((given.torque_Nm === undefined) === (given.preload_N === undefined))
      throw new CalcRefusal('give torque_Nm or preload_N, one of them', 'torque_Nm');
    return refusedAt(PATHS, () => {
      const thread = threadOf(given.size);
      const friction = {
        thread: given.mu_thread,
        head: given.mu_head ?? given.mu_thread,
        ...(given.head_diameter_mm === undefined ? {} : { headDiameter: given.head_diameter_mm }),
      };
      const arm = tighteningArm(thread, friction);
      const preload = given.preload_N ?? ((given.torque_Nm ?? Number.NaN) * 1000) / arm.total;
      const scatter = given.scatter ?? PRELOAD_SCATTER.wrench;
      const least = preload * (1 - scatter);
      const most = preload * (1 + scatter);
      const proof = given.class === undefined ? undefined : PROOF_STRESS[given.class];
      return {
        pitch_mm: thread.pitch,
        pitch_diameter_mm: thread.d2,
        stress_area_mm2: thread.stressArea,
        torque_Nm: (preload * arm.total) / 1000,
        preload_N: preload,
        preload_least_N: least,
        preload_most_N: most,
        nut_factor: arm.total / thread.diameter,
        useful_share: arm.pitch / arm.total,
        tightening_stress_MPa: tighteningStress(thread, preload, friction),
        ...(proof === undefined
          ? {}
          : {
              proof_load_N: proof * thread.stressArea,
              use: tighteningStress(thread, most, friction) / proof,
            }),
        ...(given.joint ? { joint: jointOf(given.joint, thread, least, most) } : {}),
      };
    });
  },
};
