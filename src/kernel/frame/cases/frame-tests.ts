/**
 * Tests of frame and fork together: pedalling, horizontal and vertical fatigue, falling mass, falling frame, 16 CFR 1512.14.
 *
 * Fixtures after ISO 4210-6 as read in TBIS 4210-6 and 79010; what was not seen is said beside the case. Units: mm, N, N·mm.
 * Assumptions: rigs do not give; the own weight of the frame is left out, as in the tests it is small; blows are
 * quasi-static forces whose work takes up the energy. Not here: ISO's order of tests on one sample, crack detection.
 */

import { STANDARD_GRAVITY } from '../../math/constants.ts';
import { add, norm, scale, sub, unit, type Vec3 } from '../../math/rigid.ts';
import type { FrameContext } from '../places.ts';
import type { NodeLoad } from '../structure.ts';
import type { FigureValues } from './figures.ts';
import { axleHeld, axleRolling, clamp, rigLink, steeringLockIfAny } from './fixtures.ts';
import {
  type CaseLoads,
  caseLoads,
  type FrameCase,
  force,
  lacking,
  type NotApplicable,
  placeAt,
  UNLOADED,
} from './frame-case.ts';
import { onMasses } from './statics.ts';

const DEGREE = Math.PI / 180;
const CRACKS =
  'no visible crack or fracture, no part separates; composite frames: running displacement grows by no more than 20 %';

/** Rearward along the line of the axles, at the front axle; the rear axle is clamped. */
function alongAxles(context: FrameContext, size: number): { readonly load: NodeLoad; readonly rear: number } {
  const line = unit(sub(placeAt(context, 'rearAxle'), placeAt(context, 'frontAxle')));
  return { load: force(context.places.frontAxle, scale(line, size)), rear: context.places.rearAxle };
}

function fallingMass(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, 'rearAxle', 'frontAxle');
  if (absent) return absent;
  const { load, rear } = alongAxles(context, f.reference!);
  const weight = f.striker! * STANDARD_GRAVITY;
  const energy = weight * f.drop!;
  return caseLoads(
    { supports: clamp(rear), fixtures: steeringLockIfAny(context), loads: [[load]] },
    ['rearward along the axles'],
    {
      blow: { state: 0, reference: f.reference!, weight, energy, drops: 1, limit: f.set_limit! },
      findings: [{ what: 'energy of the striker', unit: 'J', value: energy / 1000 }],
    },
  );
}

function fallingFrame(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, 'rearAxle', 'frontAxle', 'postClamp', 'headTop', 'crank');
  if (absent) return absent;
  const { places } = context;
  const pivot = placeAt(context, 'rearAxle');
  const wheelbase = placeAt(context, 'frontAxle')[0] - pivot[0];
  const masses = [
    {
      node: places.postClamp,
      mass: f.mass_seat!,
      at: add(placeAt(context, 'postClamp'), scale(context.postAxis, f.seat_offset!)),
    },
    { node: places.headTop, mass: f.mass_head!, at: placeAt(context, 'headTop') },
    { node: places.crank, mass: f.mass_crank!, at: placeAt(context, 'crank') },
  ];
  // The masses go on pressing while the frame gives way: their share at the anvil is energy over drop.
  // The frame turns about the rear axle and stops at the anvil: each mass pushes on along its own circle.
  const swing = (at: Vec3): Vec3 => [at[2] - pivot[2], 0, -(at[0] - pivot[0])];
  const inertia = masses.reduce((sum, { mass, at }) => sum + mass * norm(swing(at)) * norm(swing(at)), 0);
  const rate = (f.reference! * wheelbase) / inertia;
  const energy = masses.reduce(
    (sum, { mass, at }) => sum + (mass * STANDARD_GRAVITY * f.drop! * (at[0] - pivot[0])) / wheelbase,
    0,
  );
  return caseLoads(
    {
      supports: [...axleHeld(places.rearAxle), ...axleRolling(places.frontAxle)],
      fixtures: [],
      loads: [onMasses(masses, (at) => scale(swing(at), rate))],
    },
    ['front axle meets the anvil'],
    {
      blow: {
        state: 0,
        reference: f.reference!,
        weight: energy / f.drop!,
        energy,
        drops: f.drops!,
        limit: f.set_limit!,
      },
      findings: [{ what: 'energy of the three masses in one drop', unit: 'J', value: energy / 1000 }],
    },
  );
}

export interface PedalTest {
  /** Vertical and sideways part of the force, N. */
  readonly vertical: number;
  readonly sideways: number;
  /** About the crank axle, N·mm. */
  readonly torque: number;
  /** Tension of the tie rod, N. */
  readonly rod: number;
  /** Moment of the vertical part about the mid-plane, N·mm. */
  readonly roll: number;
}

/** The forces of the pedalling test. `levelShare` is the level part of the tie rod's direction: 1 where it lies level. */
export function pedalTest(f: FigureValues, levelShare = 1): PedalTest {
  const vertical = f.force! * Math.cos(f.tilt! * DEGREE);
  const sideways = f.force! * Math.sin(f.tilt! * DEGREE);
  const torque = vertical * f.crank! * Math.cos(f.crank_angle! * DEGREE);
  return { vertical, sideways, torque, rod: torque / (f.rod_arm! * levelShare), roll: vertical * f.pedal_out! };
}

function pedalling(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, 'rearAxle', 'frontAxle', 'crank');
  if (absent) return absent;
  const { places } = context;
  const crank = placeAt(context, 'crank');
  const rodY = Number.isFinite(context.chainline) ? context.chainline : 0;
  const armTop: Vec3 = [crank[0], rodY, crank[2] + f.rod_arm!];
  const axle = placeAt(context, 'rearAxle');
  const rodEnd: Vec3 = [axle[0], rodY, axle[2]];
  const pull = unit(sub(rodEnd, armTop));
  const test = pedalTest(f, Math.abs(pull[0]));
  const reach = f.crank! * Math.cos(f.crank_angle! * DEGREE);
  const below = f.crank! * Math.sin(f.crank_angle! * DEGREE);
  // side: −1 right, +1 left; lean +1: the force leans towards the mid-plane.
  const stroke = (side: 1 | -1, lean: 1 | -1): NodeLoad[] => [
    force(
      places.crank,
      [0, -side * lean * test.sideways, -test.vertical],
      [crank[0] + reach, crank[1] + side * f.pedal_out!, crank[2] - below],
    ),
    force(places.crank, scale(pull, test.rod), armTop),
    force(places.rearAxle, scale(pull, -test.rod), rodEnd),
  ];
  const range = (label: string, right: number) => ({
    label,
    states: [UNLOADED, right, right + 1],
    cycles: f.cycles!,
  });
  return caseLoads(
    {
      supports: axleHeld(places.frontAxle),
      fixtures: [rigLink(context, context.rearRadius)],
      loads: [stroke(-1, 1), stroke(1, 1), stroke(-1, -1), stroke(1, -1)],
    },
    [
      'right pedal, force leaning in',
      'left pedal, force leaning in',
      'right pedal, force leaning out',
      'left pedal, force leaning out',
    ],
    {
      ranges: [range('right and left in turn, leaning in', 0), range('right and left in turn, leaning out', 2)],
      findings: [
        { what: 'vertical part', unit: 'N', value: test.vertical },
        { what: 'sideways part', unit: 'N', value: test.sideways },
        { what: 'torque about the crank axle', unit: 'N·mm', value: test.torque },
        { what: 'tension of the tie rod', unit: 'N', value: test.rod },
        { what: 'moment about the mid-plane', unit: 'N·mm', value: test.roll },
      ],
    },
  );
}

function horizontal(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, 'rearAxle', 'frontAxle');
  if (absent) return absent;
  const { rearAxle, frontAxle } = context.places;
  return caseLoads(
    {
      supports: [...axleHeld(rearAxle), ...axleRolling(frontAxle)],
      fixtures: [],
      loads: [[force(frontAxle, [f.forward!, 0, 0])], [force(frontAxle, [-f.rearward!, 0, 0])]],
    },
    ['forward', 'rearward'],
    { ranges: [{ label: 'forward and rearward', states: [0, 1], cycles: f.cycles! }] },
  );
}

function vertical(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, 'rearAxle', 'frontAxle', 'saddleClamp');
  if (absent) return absent;
  const { rearAxle, frontAxle, saddleClamp } = context.places;
  const behind = sub(placeAt(context, 'saddleClamp'), [f.behind!, 0, 0]);
  return caseLoads(
    {
      supports: [...axleHeld(rearAxle), ...axleRolling(frontAxle)],
      fixtures: [],
      loads: [[force(saddleClamp, [0, 0, -f.force!], behind)]],
    },
    ['down behind the post'],
    { ranges: [{ label: 'none to full', states: [UNLOADED, 0], cycles: f.cycles! }] },
  );
}

function frontalImpact(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, 'rearAxle', 'frontAxle');
  if (absent) return absent;
  const { load, rear } = alongAxles(context, f.force!);
  return caseLoads(
    { supports: clamp(rear), fixtures: steeringLockIfAny(context), loads: [[load]] },
    ['rearward along the axles'],
    {
      blow: { state: 0, reference: f.force!, weight: 0, energy: f.energy! * 1000, drops: 1, limit: Number.NaN },
    },
  );
}

export const FRAME_TESTS: readonly FrameCase[] = [
  {
    id: 'falling_mass',
    title: 'Falling mass on the front axle',
    kind: 'screening',
    postures: ['ride'],
    source: 'ISO 4210-6, frame and fork, falling mass',
    criterion: 'no visible crack; permanent change of the wheelbase within the limit',
    note: 'A screening estimate from plastic hinges and energy, not a prediction. The force passes through the rear axle, so that it matters nothing whether that is clamped or free to turn. The attitude of the frame is from memory.',
    load: fallingMass,
  },
  {
    id: 'falling_frame',
    title: 'Falling frame',
    kind: 'screening',
    postures: ['ride'],
    source: 'ISO 4210-6, frame and fork, falling frame',
    criterion: 'no visible crack; permanent change of the wheelbase within the limit after all drops',
    note: 'A screening estimate: three masses on a bicycle without mass, stopped at the front axle. The masses are from memory.',
    load: fallingFrame,
  },
  {
    id: 'pedalling',
    title: 'Pedalling forces',
    kind: 'test_fatigue',
    postures: ['ride'],
    source: 'ISO 4210-6, frame, fatigue with pedalling forces',
    criterion: CRACKS,
    note: 'The sense of the sideways lean was not seen: both are run. The tie rod goes from the top of its arm to the rear axle; its pull follows from where that stands.',
    load: pedalling,
  },
  {
    id: 'horizontal',
    title: 'Horizontal forces at the front axle',
    kind: 'test_fatigue',
    postures: ['ride'],
    source: 'ISO 4210-6, frame, fatigue with horizontal forces',
    criterion: CRACKS,
    note: 'The front roller is guided: it may lean and turn about its axle, not move sideways or steer.',
    load: horizontal,
  },
  {
    id: 'vertical',
    title: 'Vertical force on the seat post',
    kind: 'test_fatigue',
    postures: ['ride'],
    source: 'ISO 4210-6, frame, fatigue with a vertical force',
    criterion: CRACKS,
    note: 'The post stands as in the ride posture; the standard asks for minimum insertion or a bar of 75 mm in the seat tube.',
    load: vertical,
  },
  {
    id: 'frontal_impact',
    title: 'Fork and frame, force or energy',
    kind: 'test_static',
    postures: ['ride'],
    source: '16 CFR 1512.14',
    criterion: 'no visible fracture; no deformation that limits steering',
    note: 'The greater of the stated force and of the force at which the structure has taken up the stated energy counts.',
    load: frontalImpact,
  },
];
