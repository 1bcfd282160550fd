import { z } from 'zod';
import { closeLatch, inSeries, type LatchMechanism, openingMoment, pastCentre, preloadFromHand } from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const length = (what: string) => z.number().positive().describe(`${what}, mm`);
const past = z
  .number()
  .gt(-45)
  .lt(45)
  .describe('How far the closed handle lies past its dead centre, deg; negative: it stops before it');
const pinRadius = z.number().nonnegative().optional().describe('Radius of the pins in which it turns, mm; 0 if absent');

const mechanism = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('toggle'),
    form: z
      .enum(['draw', 'spread'])
      .describe('draw: folded over, hooks pulled together; spread: links pressed straight'),
    lever_mm: length('Hand lever'),
    crank_mm: length('Crank on the handle, from its pivot to the link'),
    link_mm: length('Link, from the crank to the hook'),
    past_deg: past,
    pin_radius_mm: pinRadius,
  }),
  z.strictObject({
    kind: z.literal('cam'),
    lever_mm: length('Hand lever'),
    eccentricity_mm: length('Eccentricity of the cam'),
    radius_mm: length('Radius of the cam'),
    past_deg: past,
    pin_radius_mm: pinRadius,
  }),
  z.strictObject({
    kind: z.literal('screw'),
    lever_mm: length('Hand lever'),
    pitch_mm: length('Pitch of the thread'),
    pitch_diameter_mm: length('Pitch diameter d₂'),
    head_diameter_mm: length('Mean diameter of the contact under head or nut'),
  }),
  z.strictObject({
    kind: z.literal('wedge'),
    ratio: z.number().positive().describe('Driving force over hand force: 1 for a thumb, lever over crank otherwise'),
    angle_deg: z.number().gt(0).lt(90).describe('Inclination of the one tapered face, deg'),
  }),
  z.strictObject({
    kind: z.literal('plunger'),
    spring_N: z.number().positive().describe('Spring force with the pin home, N'),
    rate_N_per_mm: z.number().nonnegative().describe('Spring rate, N/mm'),
    stroke_mm: z.number().nonnegative().describe('Way to pull the pin clear, mm'),
    nose_deg: z.number().nonnegative().lt(90).describe('Inclination of the nose, deg; 0 for a straight pin'),
  }),
]);

const input = z.strictObject({
  mechanism: mechanism.describe('The lock'),
  friction: z.number().min(0).lt(1).describe('Sliding friction in all its contacts; greased steel 0.10–0.20'),
  stack_N_per_mm: z
    .array(z.number().positive())
    .min(1)
    .describe('Stiffness of everything that is stretched or pressed, one behind the other (springs in series), N/mm'),
  preload_N: z.number().nonnegative().optional().describe('Closing force of the shut lock, N; this or hand_force_N'),
  hand_force_N: z.number().nonnegative().optional().describe('Force of the hand that closes it, N; this or preload_N'),
  face: z
    .strictObject({
      arm_mm: z
        .number()
        .nonnegative()
        .describe('From the pin or the far edge of the face to the line of the closing force, mm'),
      pull_N: z.number().optional().describe('Tension through the face besides, N; 0 if absent'),
      pull_arm_mm: z.number().optional().describe('Its arm, mm; that of the closing force if absent'),
      service_moment_Nmm: z.number().positive().optional().describe('Moment that riding asks of the face, N·mm'),
    })
    .optional()
    .describe('The face that it keeps shut'),
});
const output = z.strictObject({
  preload_N: z.number().describe('Closing force of the shut lock, N'),
  peak_N: z.number().describe('Largest closing force on the way, at dead centre: what the parts must carry, N'),
  draw_mm: z.number().describe('How far the stack is stretched when shut, mm'),
  hand_force_N: z.number().describe('Largest force of the hand to close it, N'),
  reopen_force_N: z.number().describe('Force of the hand to open it, N; 0: it opens by itself'),
  work_J: z.number().describe('Work of the hand to close it, J'),
  held_without_friction: z.boolean().describe('Stays shut even without friction'),
  held_by_friction: z.boolean().describe('Stays shut with the friction given'),
  sticks_deg: z
    .number()
    .nullable()
    .describe(
      'Within so much of dead centre friction holds the handle anywhere: it looks shut there, deg; null: no dead centre',
    ),
  swing_deg: z.number().nullable().describe('Way of the handle under force, deg; null where the hand pushes straight'),
  past_centre: z
    .enum(['enough', 'little', 'none'])
    .nullable()
    .describe('5° and more, 2–5°, less; null without a dead centre. A second catch is wanted in any case'),
  opening_moment_Nmm: z.number().nullable().describe('Moment that opens the face, N·mm; null without a face'),
  opening_margin: z.number().nullable().describe('Opening moment over service moment; null where either is missing'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

const DEGREE = Math.PI / 180;

function machine(given: Input): LatchMechanism {
  const stack = inSeries(...given.stack_N_per_mm);
  const { friction, mechanism: m } = given;
  switch (m.kind) {
    case 'toggle':
      return {
        kind: 'toggle',
        form: m.form,
        lever: m.lever_mm,
        crank: m.crank_mm,
        link: m.link_mm,
        past: m.past_deg * DEGREE,
        pinRadius: m.pin_radius_mm ?? 0,
        friction,
        stack,
      };
    case 'cam':
      return {
        kind: 'cam',
        lever: m.lever_mm,
        eccentricity: m.eccentricity_mm,
        radius: m.radius_mm,
        past: m.past_deg * DEGREE,
        pinRadius: m.pin_radius_mm ?? 0,
        friction,
        stack,
      };
    case 'screw':
      return {
        kind: 'screw',
        lever: m.lever_mm,
        pitch: m.pitch_mm,
        pitchDiameter: m.pitch_diameter_mm,
        headDiameter: m.head_diameter_mm,
        friction,
        stack,
      };
    case 'wedge':
      return { kind: 'wedge', ratio: m.ratio, angle: m.angle_deg * DEGREE, friction, stack };
    case 'plunger':
      return {
        kind: 'plunger',
        spring: m.spring_N,
        rate: m.rate_N_per_mm,
        stroke: m.stroke_mm,
        nose: m.nose_deg * DEGREE,
        friction,
        stack,
      };
  }
}
const orNull = (x: number): number | null => (Number.isNaN(x) ? null : x);

/** Preload and hand force of one lock. */
export const topic: CalcTopic<Input, Output> = {
  name: 'latch',
  meaning: 'preload, hand force, reopening force and opening moment of a latch, clamp or wedge from one geometry',
  method:
    'virtual work with Coulomb friction: exact slider-crank toggle, eccentric cam, long-form screw (VDI 2230 part 1), wedge, spring plunger; face opens at preload times arm. Docs: methods/frame-joints',
  input,
  output,
  run(given) {
    const { preload_N, hand_force_N, face } = given;
    const m = machine(given);
    const springs = m.kind === 'plunger';
    if (!springs && (preload_N === undefined) === (hand_force_N === undefined))
      throw new CalcRefusal('give either preload_N or hand_force_N', 'preload_N');
    try {
      const preload = preload_N ?? preloadFromHand(m, hand_force_N ?? 0);
      const f = closeLatch(m, preload);
      const opens = face
        ? openingMoment(f.preload, face.arm_mm, face.pull_N ?? 0, face.pull_arm_mm ?? face.arm_mm)
        : Number.NaN;
      return {
        preload_N: f.preload,
        peak_N: f.peak,
        draw_mm: f.draw,
        hand_force_N: f.handForce,
        reopen_force_N: f.reopenForce,
        work_J: f.work / 1e3,
        held_without_friction: f.heldWithoutFriction,
        held_by_friction: f.heldByFriction,
        sticks_deg: orNull(f.sticks / DEGREE),
        swing_deg: orNull(f.swing / DEGREE),
        past_centre: m.kind === 'toggle' || m.kind === 'cam' ? pastCentre(m.past) : null,
        opening_moment_Nmm: orNull(opens),
        opening_margin: face?.service_moment_Nmm === undefined ? null : opens / face.service_moment_Nmm,
      };
    } catch (error) {
      if (error instanceof RangeError) throw new CalcRefusal(error.message, 'mechanism');
      throw error;
    }
  },
};
