/** Quantities of steering geometry, handling and braking. */
import {
  FRONT_LOAD_AT_LEAST,
  HEAD_ANGLE_LIMITS,
  INTERCEPT_LIMITS,
  LINEAR_LEAN,
  RIDER_SPREAD,
  rollRateGain,
  STANDARD_GRAVITY,
} from '#kernel';
import type { Family, Input } from '../family.ts';
import { absent, single } from '../family.ts';
import type { Results } from '../results.ts';

const DEG = 180 / Math.PI;
const MPRS =
  'J. P. Meijaard, J. M. Papadopoulos, A. Ruina, A. L. Schwab: Linearized dynamics equations for the balance and steer of a bicycle, Proc. R. Soc. A 463 (2007) 1955–1982';
const RIGID =
  'rigid rider, knife-edge tyres, small angles: for comparing designs; measured riders make a bicycle less steady than this model says';

const geometry = (r: Results) => r.steer!.assembled.geometry;
const geometryInputs = (r: Results): readonly Input[] => {
  const g = geometry(r);
  return [
    { symbol: 'r', meaning: 'loaded radius of the front wheel', value: g.wheelRadius * 1000, unit: 'mm' },
    { symbol: 'g', meaning: 'head angle from the ground', value: g.headAngle * DEG, unit: 'deg' },
    { symbol: 'f', meaning: 'fork offset, square to the steer axis', value: g.offset * 1000, unit: 'mm' },
  ];
};
const percent = (x: number): string => `${(x * 100).toFixed(0)} %`;
/** At 5 m/s and 5 rad/s: everyday speed, the upper end of what a rider's arms do. */
const rollGain = (r: Results): number => rollRateGain(r.steer!.system, 5, 5).size;
const speedNote = (r: Results): string =>
  r.steer!.usual.seat.misfits.length
    ? `the usual rider does not sit well here: ${r.steer!.usual.seat.misfits.map((m) => m.code).join(', ')}`
    : '';

export const STEER_FAMILIES: readonly Family[] = [
  {
    id: 'steer.wheelbase',
    title: 'wheelbase',
    symbol: 'w',
    unit: 'mm',
    meaning: 'rear hub to front hub along the ground',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) => r.steer!.assembled.frontX - r.steer!.assembled.rearX,
    formula: 'x_f - x_r',
    inputs: (r) => [
      { symbol: 'x_f', meaning: 'front hub', value: r.steer!.assembled.frontX * 1000, unit: 'mm' },
      { symbol: 'x_r', meaning: 'rear hub', value: r.steer!.assembled.rearX * 1000, unit: 'mm' },
    ],
    source: 'ISO 4210-1, vocabulary',
    standing: 'published',
    valid: 'any bicycle with two wheels in line',
    spread: () => 0.002,
  },
  {
    id: 'steer.head_angle',
    title: 'head angle',
    symbol: 'g',
    unit: 'deg',
    meaning: 'steer axis to the ground, measured at the rear-facing side',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) => geometry(r).headAngle,
    formula: 'atan2(a_z, 0 - a_x)',
    inputs: (r) => {
      const j = r.model.roles.steerer;
      const sign = r.state.joint[6 * j + 5]! < 0 ? -1 : 1;
      return [
        { symbol: 'a_x', meaning: 'steer axis, forward', value: sign * r.state.joint[6 * j + 3]!, unit: '' },
        { symbol: 'a_z', meaning: 'steer axis, up', value: sign * r.state.joint[6 * j + 5]!, unit: '' },
      ];
    },
    source: 'ISO 4210-2, Annex A (informative)',
    standing: 'published',
    valid: 'axis in the mid-plane',
    outside: (r) => {
      const g = geometry(r).headAngle;
      return g < HEAD_ANGLE_LIMITS[0] || g > HEAD_ANGLE_LIMITS[1]
        ? 'outside the 65–75° that ISO 4210-2, Annex A recommends'
        : undefined;
    },
    spread: () => 0.3 / DEG,
  },
  {
    id: 'steer.trail',
    title: 'trail',
    symbol: 'c',
    unit: 'mm',
    meaning: 'contact point behind the point where the steer axis meets the ground',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) => geometry(r).trail,
    formula: '(r*cos(g) - f)/sin(g)',
    inputs: geometryInputs,
    source: 'J. K. Moore: Human Control of a Bicycle, thesis, Davis 2012',
    standing: 'published',
    valid: 'upright, wheel straight; loaded radius',
    spread: () => 0.002,
  },
  {
    id: 'steer.mechanical_trail',
    title: 'mechanical trail',
    symbol: 'c_n',
    unit: 'mm',
    meaning: 'trail measured square to the steer axis',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) => geometry(r).mechanicalTrail,
    formula: 'r*cos(g) - f',
    inputs: geometryInputs,
    source: 'J. K. Moore: Human Control of a Bicycle, thesis, Davis 2012',
    standing: 'published',
    valid: 'as trail',
    spread: () => 0.002,
  },
  {
    id: 'steer.flop',
    title: 'wheel flop',
    symbol: 'f_w',
    unit: 'mm',
    meaning:
      'how strongly the front drops when the bar is turned: the drop is about half of it times the angle squared',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) => geometry(r).flop,
    formula: '(r*cos(g) - f)*cos(g)',
    inputs: geometryInputs,
    source: 'trade formula, from memory; checked against a nonlinear model to 0.5 % at 0.1 rad',
    standing: 'memory',
    valid: 'small steer angles, upright',
    spread: () => 0.001,
  },
  {
    id: 'steer.intercept_ratio',
    title: 'intercept ratio',
    symbol: 'i',
    unit: '%',
    meaning: 'height at which the steer axis cuts the vertical through the front hub, over the wheel radius',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) =>
      Number.isFinite(geometry(r).interceptRatio)
        ? geometry(r).interceptRatio
        : absent('a vertical steer axis never cuts the vertical through the hub'),
    formula: '(r*cos(g) - f)/sin(g)*tan(g)/r',
    inputs: geometryInputs,
    source: 'ISO 4210-2, Annex A (informative)',
    standing: 'published',
    valid: 'head angle other than 90°',
    outside: (r) => {
      const i = geometry(r).interceptRatio;
      return i < INTERCEPT_LIMITS[0] || i > INTERCEPT_LIMITS[1]
        ? `outside the ${percent(INTERCEPT_LIMITS[0])}–${percent(INTERCEPT_LIMITS[1])} that ISO 4210-2, Annex A recommends; many bicycles on sale exceed it`
        : undefined;
    },
    spread: () => 0.02,
  },
  {
    id: 'steer.weave_speed',
    title: 'weave speed',
    symbol: 'v_w',
    unit: 'm/s',
    meaning: 'lowest speed above which the weave dies out by itself',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) => r.steer!.weave ?? absent('no speed at which an unstable oscillation turns stable'),
    steps: [
      'Mass and inertia of both halves and both wheels from the candidate; the usual rider seated and rigid.',
      'Linear Carvallo–Whipple equations; Routh condition on the characteristic polynomial for the lowest speed at which an unstable pair turns stable.',
    ],
    source: MPRS,
    standing: 'published',
    valid: RIGID,
    spread: () => 0.4,
    caution: 'A comparative number: identified riders are less stable than this by up to 2 m/s.',
    note: speedNote,
  },
  {
    id: 'steer.capsize_speed',
    title: 'capsize speed',
    symbol: 'v_c',
    unit: 'm/s',
    meaning: 'speed above which the bicycle slowly falls into a turn by itself',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) => r.steer!.capsize ?? absent('it never capsizes slowly at any speed'),
    steps: ['As weave speed; the constant term of the characteristic polynomial changes sign there.'],
    source: MPRS,
    standing: 'published',
    valid: RIGID,
    spread: () => 0.5,
  },
  {
    id: 'steer.hand_force',
    title: 'hand force in a bend',
    symbol: 'F_h',
    unit: 'N',
    meaning: 'largest force per hand in steady bends of 1 m/s² at 3, 5 and 7 m/s, square to the grip’s radius',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) => Math.max(...r.steer!.turns.map((t) => t.force.least)),
    formula: 'abs(T)/(2*hypot(b, a))',
    inputs: (r) => {
      const worst = r.steer!.turns.reduce((x, y) => (y.force.least > x.force.least ? y : x));
      return [
        { symbol: 'T', meaning: `steer torque at ${worst.speed} m/s`, value: worst.turn.torque, unit: 'N.m' },
        { symbol: 'b', meaning: 'grip beside the steer axis', value: r.steer!.lever.side * 1000, unit: 'mm' },
        { symbol: 'a', meaning: 'grip ahead of the steer axis', value: r.steer!.lever.reach * 1000, unit: 'mm' },
      ];
    },
    source: MPRS,
    standing: 'published',
    valid: `linear: lean up to ${LINEAR_LEAN} rad; ${RIGID}`,
    outside: (r) => (r.steer!.turns.every((t) => t.turn.inRange) ? undefined : 'a bend leans beyond the linear range'),
    spread: (r) => 0.2 * Math.max(...r.steer!.turns.map((t) => t.force.least)),
    note: (r) => r.steer!.turns.map((t) => `${t.speed} m/s ${t.force.least.toFixed(1)} N`).join(', '),
  },
  {
    id: 'steer.roll_gain',
    title: 'roll rate per steer torque',
    symbol: 'G',
    unit: 'deg/s/N/m',
    meaning: 'answer of the roll rate to a steer torque swinging at 5 rad/s, at 5 m/s',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) => rollGain(r),
    steps: [
      'Complex frequency response of the linear model; the forced part of the motion, also where the bicycle is unstable by itself.',
    ],
    source: MPRS,
    standing: 'published',
    valid: RIGID,
    spread: (r) => 0.15 * rollGain(r),
  },
  {
    id: 'steer.front_load',
    title: 'load on the front wheel',
    symbol: 'N_f',
    unit: '%',
    meaning:
      'least share of bicycle and rider on the front wheel, over the usual, the shortest and the tallest heaviest rider',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) => r.steer!.frontShare,
    steps: [
      'Moments about the rear contact point; rider seated at the saddle height of the rule, hands on the grips, no luggage.',
    ],
    source: `ISO 4210-2:2014, 4.7.5 asks for at least ${percent(FRONT_LOAD_AT_LEAST)}`,
    standing: 'published',
    valid: 'rider built from segment tables: centre of mass within about 5 cm',
    // the rider's centre of mass is known to about 5 cm (RIDER_SPREAD), over the wheelbase
    spread: (r) => RIDER_SPREAD.com / r.steer!.system.w,
    note: (r) =>
      `worst for the rider of ${r.steer!.frontShareRider.stature.toFixed(2)} m, ${r.steer!.frontShareRider.mass.toFixed(0)} kg`,
  },
  {
    id: 'steer.pitch_over',
    title: 'braking until the rear wheel lifts',
    symbol: 'a_p',
    unit: 'm/s2',
    meaning:
      'deceleration at which the rear wheel leaves the ground on the steepest descent, worst rider, with and without luggage',
    tier: 'drag',
    needs: ['steer'],
    slots: single,
    read: (r) => r.steer!.pitchOver.deceleration,
    formula: 'g*((w - x)/h*cos(q) + sin(q))',
    inputs: (r) => pitchInputs(r),
    source: 'C. Riel 2005, exact in the slope angle',
    standing: 'published',
    valid: 'rigid, no skid, front brake alone; a wet road often grips less',
    spread: (r) => 0.08 * r.steer!.pitchOver.deceleration,
    caution: 'Brakes and tyres decide on the road: a prediction for choosing between designs.',
    note: (r) =>
      `worst for ${r.steer!.pitchOverRider.stature.toFixed(2)} m, ${r.steer!.pitchOverRider.mass.toFixed(0)} kg, ${r.steer!.pitchOver.luggage ? 'with' : 'without'} luggage`,
  },
  {
    id: 'steer.likeness',
    title: 'likeness to the reference bicycle',
    symbol: 'L',
    unit: '',
    meaning: 'how like the reference bicycle it steers: 1 is the same, 0 is nothing in common',
    tier: 'settle',
    needs: ['steer', 'likeness'],
    slots: single,
    read: (r) => r.likeness!.value,
    steps: [
      'A profile of geometry, stability, steady turns, responses and a lane change under one identical stabilising rider model, at 3, 5 and 7 m/s.',
      'Similarity of each figure between 0 and 1; mean within each group; mean of the groups.',
    ],
    source: 'our own condensation of figures from the published linear model',
    standing: 'definition',
    valid: RIGID,
    spread: () => 0.08,
    caution: 'Figures of a model choose what to try; rider trials decide.',
    note: (r) => r.likeness!.groups.map((g) => `${g.group} ${g.similarity.toFixed(2)}`).join(', '),
  },
];

function pitchInputs(r: Results): readonly Input[] {
  const load = r.steer!.pitchLoad;
  return [
    { symbol: 'g', meaning: 'gravity', value: STANDARD_GRAVITY, unit: 'm/s2' },
    { symbol: 'w', meaning: 'wheelbase', value: (load.frontX - load.rearX) * 1000, unit: 'mm' },
    {
      symbol: 'x',
      meaning: 'common centre of mass ahead of the rear contact',
      value: (load.total.com[0] - load.rearX) * 1000,
      unit: 'mm',
    },
    { symbol: 'h', meaning: 'its height', value: load.total.com[2] * 1000, unit: 'mm' },
    { symbol: 'q', meaning: 'slope, downhill negative', value: Math.atan(-r.setting.descent) * DEG, unit: 'deg' },
  ];
}
