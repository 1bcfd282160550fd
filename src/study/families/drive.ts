/** Quantities of the drive: gears, power on the road, what the steepest street asks. */
import {
  AIR_DENSITY,
  BEARING_DRAG,
  type CrankLoad,
  LEAST_RIDING_SPEED,
  PEAK_OVER_MEAN,
  RIDER_POWER,
  ROLLING_TYRE_SPREAD,
  STANDARD_GRAVITY,
  slopeOf,
  UPRIGHT_DRAG,
} from '#kernel';
import { type Absent, absent, type Family, type Input, single } from '../family.ts';
import type { Results } from '../results.ts';
import { CLIMB_SPEED, type ClimbGear, type ClimbResult } from '../run/drive.ts';
import { BRAKING_FAMILIES } from './braking.ts';
import { LOOP_FAMILIES } from './drive-loop.ts';
import { MOTOR_FAMILIES } from './motor.ts';

const drag = { tier: 'drag', slots: single } as const;
const NEEDS = ['drive'] as const;
const MARTIN =
  'J. C. Martin et al.: Validation of a mathematical model for road cycling power, J. Appl. Biomech. 14 (1998) 276–291';
const ROAD =
  'dry, even road, no wind; upright rider in everyday clothes; drag area, rolling resistance and losses are defaults, from memory';

const gears = (r: Results) => r.drive!.gears;
const noGears = (r: Results): Absent => absent(r.drive!.why.gears ?? 'no gears');
const lowest = (r: Results) => gears(r)?.gears[0];
const highest = (r: Results) => gears(r)?.gears.at(-1);
const gearInputs = (r: Results, pick: (r: Results) => ReturnType<typeof lowest>): readonly Input[] => {
  const g = pick(r);
  return [
    { symbol: 'U', meaning: 'way per turn of the wheel, tyre loaded', value: r.drive!.rollOut * 1000, unit: 'mm' },
    { symbol: 'N_1', meaning: 'teeth of the chainring', value: g?.ring ?? Number.NaN, unit: '' },
    { symbol: 'N_2', meaning: 'teeth of the sprocket', value: g?.sprocket ?? Number.NaN, unit: '' },
    { symbol: 'i', meaning: 'ratio of the hub gear', value: g?.ratio ?? Number.NaN, unit: '' },
  ];
};
const TEETH = 'teeth and ratios as written; ratios of a hub gear by its number of gears are typical ones, from memory';

const climb = (r: Results): ClimbResult | Absent =>
  r.drive!.climb ?? absent(r.drive!.driven ? 'the brief has no climb' : 'nothing drives this bicycle');
const inLowest = (r: Results, read: (g: ClimbGear, c: ClimbResult) => number): number | Absent => {
  const c = climb(r);
  if ('absent' in c) return c;
  const g = c.gears[0];
  return g ? read(g, c) : noGears(r);
};
/** Rolling resistance and mass matter little on a steep street; the gear's losses do. */
const CLIMB_SPREAD = 0.05;
const climbLoad = (r: Results): CrankLoad | undefined => r.drive!.climb?.gears[0]?.load;

export const DRIVE_FAMILIES: readonly Family[] = [
  {
    id: 'drive.development_low',
    title: 'development, lowest gear',
    symbol: 'D_1',
    unit: 'm',
    meaning: 'way per turn of the cranks in the lowest gear',
    needs: NEEDS,
    ...drag,
    read: (r) => lowest(r)?.development ?? noGears(r),
    formula: 'U*N_1/N_2*i',
    inputs: (r) => gearInputs(r, lowest),
    source: 'ISO 8090 (term); outside radius less a third of the sag for the way per turn, from memory',
    standing: 'definition',
    valid: TEETH,
    spread: (r) => 0.005 * (lowest(r)?.development ?? 0),
    note: (r) => gearList(r),
  },
  {
    id: 'drive.development_high',
    title: 'development, highest gear',
    symbol: 'D_n',
    unit: 'm',
    meaning: 'way per turn of the cranks in the highest gear',
    needs: NEEDS,
    ...drag,
    read: (r) => highest(r)?.development ?? noGears(r),
    formula: 'U*N_1/N_2*i',
    inputs: (r) => gearInputs(r, highest),
    source: 'as drive.development_low',
    standing: 'definition',
    valid: `${TEETH}; in town 2.2 to 6.5 m are useful, from memory`,
    spread: (r) => 0.005 * (highest(r)?.development ?? 0),
    note: (r) => gearList(r),
  },
  {
    id: 'drive.gear_range',
    title: 'range of the gears',
    symbol: 'R_g',
    unit: '%',
    meaning: 'highest development over lowest',
    needs: NEEDS,
    ...drag,
    read: (r) => gears(r)?.range ?? noGears(r),
    formula: 'D_n/D_1',
    inputs: (r) => [
      { symbol: 'D_n', meaning: 'development, highest gear', value: highest(r)?.development ?? Number.NaN, unit: 'm' },
      { symbol: 'D_1', meaning: 'development, lowest gear', value: lowest(r)?.development ?? Number.NaN, unit: 'm' },
    ],
    source: 'common practice, no source',
    standing: 'practice',
    valid: TEETH,
    spread: (r) => 0.02 * (gears(r)?.range ?? 0),
    note: (r) => (gears(r) ? `largest step ${((gears(r)!.largestStep - 1) * 100).toFixed(0)} %` : undefined),
  },
  {
    id: 'drive.cadence',
    title: 'cadence at the brief’s speed',
    symbol: 'n_c',
    unit: 'rpm',
    meaning: 'turns of the cranks in the gear that comes nearest to 70 a minute',
    needs: NEEDS,
    ...drag,
    read: (r) => r.drive!.cruise?.cadence ?? noGears(r),
    formula: 'v/D',
    inputs: (r) => [
      { symbol: 'v', meaning: 'speed', value: r.drive!.speed * 3.6, unit: 'km/h' },
      { symbol: 'D', meaning: 'development', value: r.drive!.cruise?.gear.development ?? Number.NaN, unit: 'm' },
    ],
    source: 'definition; 70 a minute from memory',
    standing: 'definition',
    valid: TEETH,
    spread: (r) => 0.005 * (r.drive!.cruise?.cadence ?? 0),
  },
  {
    id: 'drive.power_flat',
    title: 'power on the level',
    symbol: 'P_f',
    unit: 'W',
    meaning: 'at the pedals at the brief’s speed, usual rider with luggage',
    needs: NEEDS,
    ...drag,
    read: (r) => r.drive!.flat.pedals,
    formula: 'v*(0.5*rho*A*v*v + C*m*g + b_0 + b_1*v)/e',
    inputs: (r) => powerInputs(r, r.drive!.speed, 0).filter((i) => i.symbol !== 's' && i.symbol !== 'c'),
    source: MARTIN,
    standing: 'published',
    valid: `${ROAD}; the model itself was within 2.7 W of measured power`,
    spread: (r) => roadSpread(r),
    note: (r) => {
      const f = r.drive!.flat;
      return `air ${f.air.toFixed(0)} W, rolling ${f.rolling.toFixed(0)} W, bearings ${f.bearing.toFixed(1)} W; an everyday rider gives ${(RIDER_POWER.everyday * r.drive!.rider).toFixed(0)} W`;
    },
  },
  {
    id: 'drive.power_climb',
    title: 'power up the steepest street',
    symbol: 'P_c',
    unit: 'W',
    meaning: 'at the pedals at 8 km/h, usual rider with luggage',
    needs: NEEDS,
    ...drag,
    read: (r) => {
      const c = climb(r);
      return 'absent' in c ? c : c.power.pedals;
    },
    formula: 'v*(0.5*rho*A*v*v + C*m*g*c + m*g*s + b_0 + b_1*v)/e',
    inputs: (r) => powerInputs(r, CLIMB_SPEED, r.drive!.climb?.grade ?? 0),
    source: MARTIN,
    standing: 'published',
    valid: ROAD,
    spread: (r) => CLIMB_SPREAD * (r.drive!.climb?.power.pedals ?? 0),
    note: (r) => `an everyday rider gives ${(RIDER_POWER.minutes * r.drive!.rider).toFixed(0)} W for some minutes`,
  },
  {
    id: 'drive.climb_speed',
    title: 'speed up the steepest street',
    symbol: 'v_c',
    unit: 'km/h',
    meaning: 'what the usual rider keeps for some minutes, helped by the motor where there is one',
    needs: NEEDS,
    ...drag,
    read: (r) => {
      const c = climb(r);
      return 'absent' in c ? c : c.ridden.speed;
    },
    steps: [
      `The rider gives ${RIDER_POWER.minutes} W a kilogram; a motor adds what its setting says, up to its continuous power and speed.`,
      'Speed at which the road takes that power: root of the road model, which grows with speed; not more than the brief’s speed.',
    ],
    source: `${MARTIN}; the rider’s power from memory`,
    standing: 'memory',
    valid: ROAD,
    outside: (r) =>
      r.drive!.climb?.pushed
        ? `slower than ${(LEAST_RIDING_SPEED * 3.6).toFixed(0)} km/h, where a bicycle is hardly kept upright: it is pushed`
        : undefined,
    spread: (r) => 0.2 * (r.drive!.climb?.ridden.speed ?? 0),
    note: (r) => {
      const c = r.drive!.climb;
      const g = c?.gears[0];
      const turns = g ? `${(g.cadence * 60).toFixed(0)} turns a minute in the lowest gear` : '';
      return c && c.ridden.motor > 0
        ? `rider ${c.ridden.rider.toFixed(0)} W, motor ${c.ridden.motor.toFixed(0)} W; ${turns}`
        : turns || undefined;
    },
  },
  {
    id: 'drive.climb_torque',
    title: 'crank torque on the steepest street',
    symbol: 'T_c',
    unit: 'N.m',
    meaning: 'mean over a turn in the lowest gear, crawling, without a motor’s help',
    needs: NEEDS,
    ...drag,
    read: (r) => inLowest(r, (g) => g.load.meanTorque),
    formula: 'F*D_1/(2*pi*e)',
    inputs: (r) => [
      { symbol: 'F', meaning: 'force at the wheel', value: r.drive!.climb?.force ?? Number.NaN, unit: 'N' },
      { symbol: 'D_1', meaning: 'development, lowest gear', value: lowest(r)?.development ?? Number.NaN, unit: 'm' },
      {
        symbol: 'e',
        meaning: 'share of the pedals’ power that reaches the wheel',
        value: r.drive!.efficiency,
        unit: '',
      },
    ],
    source: 'energy per turn; theory',
    standing: 'published',
    valid: ROAD,
    spread: (r) => CLIMB_SPREAD * (climbLoad(r)?.meanTorque ?? 0),
    note: (r) => gearTable(r),
  },
  {
    id: 'drive.climb_force',
    title: 'pedal force on the steepest street',
    symbol: 'F_p',
    unit: 'N',
    meaning: 'peak, square to the crank, in the lowest gear, crawling, without a motor’s help',
    needs: NEEDS,
    ...drag,
    read: (r) => inLowest(r, (g) => g.load.pedalForce),
    formula: 'T_c*pi/2/l',
    inputs: (r) => [
      {
        symbol: 'T_c',
        meaning: 'mean crank torque',
        value: climbLoad(r)?.meanTorque ?? Number.NaN,
        unit: 'N.m',
      },
      {
        symbol: 'l',
        meaning: 'crank',
        value: ((climbLoad(r)?.peakTorque ?? Number.NaN) / (climbLoad(r)?.pedalForce ?? Number.NaN)) * 1000,
        unit: 'mm',
      },
    ],
    source: `peak over mean of |sin|, ${PEAK_OVER_MEAN.toFixed(3)}: shape of pedalling from memory`,
    standing: 'memory',
    valid: 'one leg after the other, no pull at the rising pedal',
    spread: (r) => 0.12 * (climbLoad(r)?.pedalForce ?? 0),
    note: (r) => startNote(r),
  },
  ...LOOP_FAMILIES,
  ...BRAKING_FAMILIES,
  ...MOTOR_FAMILIES,
];

const gearList = (r: Results): string | undefined => {
  const all = gears(r)?.gears;
  return all && `${all.map((g) => g.development.toFixed(2)).join(', ')} m`;
};

const gearTable = (r: Results): string | undefined => {
  const all = r.drive!.climb?.gears ?? [];
  return all.length > 0
    ? all.map((g) => `${g.gear.development.toFixed(2)} m ${g.load.meanTorque.toFixed(0)} N·m`).join(', ')
    : undefined;
};

/** Whether the usual rider gets going in the lowest gear. */
function startNote(r: Results): string | undefined {
  const g = r.drive!.climb?.gears[0];
  if (!g) return undefined;
  const share = `${(g.weightShare * 100).toFixed(0)} % of the usual rider’s weight`;
  if (g.weightShare > 1) return `${share}: no start here without pulling at the bar`;
  return `${share}: starts ${g.weightShare > 0.5 ? 'standing' : 'seated'}`;
}

function powerInputs(r: Results, speed: number, grade: number): readonly Input[] {
  const { load, efficiency } = r.drive!;
  const [cos, sin] = slopeOf(grade);
  return [
    { symbol: 'v', meaning: 'speed', value: speed * 3.6, unit: 'km/h' },
    { symbol: 'rho', meaning: 'density of the air', value: AIR_DENSITY, unit: 'kg/m3' },
    { symbol: 'A', meaning: 'drag area', value: load.dragArea, unit: 'm2' },
    { symbol: 'C', meaning: 'rolling resistance by wheel size', value: load.rolling, unit: '' },
    { symbol: 'm', meaning: 'rider, bicycle, luggage', value: load.mass, unit: 'kg' },
    { symbol: 'g', meaning: 'free fall', value: STANDARD_GRAVITY, unit: 'm/s2' },
    { symbol: 'c', meaning: 'cosine of the slope', value: cos, unit: '' },
    { symbol: 's', meaning: 'sine of the slope', value: sin, unit: '' },
    { symbol: 'b_0', meaning: 'bearings at rest', value: BEARING_DRAG[0], unit: 'N' },
    { symbol: 'b_1', meaning: 'bearings with speed', value: BEARING_DRAG[1], unit: 'N.s/m' },
    { symbol: 'e', meaning: 'share of the pedals’ power that reaches the wheel', value: efficiency, unit: '' },
  ];
}

/** Drag area, tyre and wheel size, each by itself, and 2 % of the drive. */
function roadSpread(r: Results): number {
  const { flat, rolling, efficiency } = r.drive!;
  const size = (rolling.high - rolling.low) / 2 / rolling.value;
  const parts = [
    (flat.air * UPRIGHT_DRAG.spread) / UPRIGHT_DRAG.area,
    flat.rolling * ROLLING_TYRE_SPREAD,
    flat.rolling * size,
    0.02 * flat.wheel,
  ];
  return Math.sqrt(parts.reduce((sum, x) => sum + x * x, 0)) / efficiency;
}
