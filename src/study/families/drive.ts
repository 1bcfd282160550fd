/** Quantities of the drive: gears, power on the road, what the steepest street asks, chain or belt in both postures. */
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
  TWISTED,
  UPRIGHT_DRAG,
} from '#kernel';
import { type Absent, absent, type Family, type Input, single } from '../family.ts';
import type { Results } from '../results.ts';
import { CLIMB_SPEED, type ClimbGear, type ClimbResult, type LoopResult } from '../run/drive.ts';
import { BRAKING_FAMILIES } from './braking.ts';
import { MOTOR_FAMILIES } from './motor.ts';

const drag = { tier: 'drag', slots: single } as const;
const NEEDS = ['drive'] as const;
const MARTIN =
  'J. C. Martin et al.: Validation of a mathematical model for road cycling power, J. Appl. Biomech. 14 (1998) 276–291';
const ROAD =
  'dry, even road, no wind; upright rider in everyday clothes; drag area, rolling resistance and losses are defaults, from memory';
const DEG = 180 / Math.PI;

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

const climb = (r: Results): ClimbResult | Absent => r.drive!.climb ?? absent('the brief has no climb');
const inLowest = (r: Results, read: (g: ClimbGear, c: ClimbResult) => number): number | Absent => {
  const c = climb(r);
  if ('absent' in c) return c;
  const g = c.gears[0];
  return g ? read(g, c) : noGears(r);
};
/** Rolling resistance and mass matter little on a steep street; the gear's losses do. */
const CLIMB_SPREAD = 0.05;
const climbLoad = (r: Results): CrankLoad | undefined => r.drive!.climb?.gears[0]?.load;

const loop = (r: Results): LoopResult | Absent => r.drive!.loop ?? absent(r.drive!.why.loop ?? 'no chain');
const ofLoop = (r: Results, read: (l: LoopResult) => number | Absent): number | Absent => {
  const l = loop(r);
  return 'absent' in l ? l : read(l);
};
const mm = (x: number): string => `${(x * 1000).toFixed(0)} mm`;
const LOOP_VALID =
  'wheels in one plane, chain new; chainring and sprocket where they are drawn; tensioners’ own pulleys are not in it';

/** How the slack can be taken up, or not. */
function takenUp(l: LoopResult): string {
  const name = l.kind === 'chain' ? `${l.pitches} links` : `belt of ${l.pitches} teeth`;
  if (l.slack < 0) return `${name}: too short by ${mm(-l.slack)}, it cannot be mounted`;
  const parts = [`${name}${l.given ? ' as given' : ''} for ${l.exact.toFixed(2)}`];
  if (l.move !== undefined && l.tensioner === 0) parts.push(`taut with the hub ${mm(l.move)} further back`);
  const worn = l.slack + l.wear + l.span;
  if (l.tensioner > 0)
    parts.push(
      l.tensioner >= worn
        ? `the tensioner takes up ${mm(worn)} of its ${mm(l.tensioner)}, wear included`
        : `the tensioner takes up ${mm(l.tensioner)} and would have to ${mm(worn)}, wear included`,
    );
  else if (l.span > 1e-4) parts.push(`sprockets of different size set ${mm(l.span)} free: it needs a tensioner`);
  else if (l.adjust > 0 && l.move !== undefined) {
    const worst = l.move + l.wear / 2;
    parts.push(
      l.adjust >= worst
        ? `the hub moves back by ${mm(l.adjust)}: enough until the chain is worn`
        : `the hub moves back by ${mm(l.adjust)} and would have to by ${mm(worst)} until the chain is worn`,
    );
  } else parts.push('the file gives neither `adjust` nor `tensioner` to take it up');
  return parts.join('; ');
}

/** What the fold does to it. */
function foldNote(l: LoopResult): string | undefined {
  const f = l.fold;
  if (!f?.moves) return f ? `${l.kind} and both its wheels are on one body: the fold leaves it alone` : undefined;
  const parts = [
    `distance of the wheels ${mm(f.ride.reach)} riding, ${mm(f.folded.reach)} folded, ${mm(f.shortest.reach)} to ${mm(f.longest.reach)} on the way`,
  ];
  if (f.twisted)
    parts.push(
      `their axles go ${(Math.max(f.folded.angle, f.longest.angle) * DEG).toFixed(0)} deg out of parallel and ${mm(Math.abs(f.folded.shift))} out of line: it comes off unless guides hold it`,
    );
  if (l.releasable) parts.push('it is let go for the fold');
  return parts.join('; ');
}

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
    unit: '1/min',
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
        ? `slower than ${(LEAST_RIDING_SPEED * 3.6).toFixed(0)} km/h, where a bicycle is hardly kept upright: he pushes`
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
  {
    id: 'drive.loop_length',
    title: 'length of chain or belt',
    symbol: 'L',
    unit: 'mm',
    meaning: 'once round chainring and sprocket where they are drawn',
    needs: NEEDS,
    ...drag,
    read: (r) => ofLoop(r, (l) => l.loop.length),
    steps: [
      'Two straight runs between the pitch circles and the arcs on them; a chain lays down its pitch per tooth on a circle through its pins.',
    ],
    source: 'closed form of the open belt; theory',
    standing: 'published',
    valid: LOOP_VALID,
    spread: () => 0.002,
    note: (r) => {
      const l = loop(r);
      return 'absent' in l
        ? undefined
        : `wheels ${mm(l.centres)} apart; ${l.mesh[0].toFixed(1)} and ${l.mesh[1].toFixed(1)} teeth hold`;
    },
  },
  {
    id: 'drive.loop_links',
    title: 'links of the chain, or teeth of the belt',
    symbol: 'n_L',
    unit: '',
    meaning: 'as given, or the least whole (of a chain: even) number that reaches round',
    needs: NEEDS,
    ...drag,
    read: (r) => ofLoop(r, (l) => l.pitches),
    steps: ['Length over pitch, rounded up; with a tensioner the longest length that the fold asks for.'],
    source: 'definition',
    standing: 'definition',
    valid: LOOP_VALID,
    spread: () => 0,
    note: (r) => noteOfLoop(r, takenUp),
  },
  {
    id: 'drive.loop_slack',
    title: 'slack of chain or belt while riding',
    symbol: 'e_L',
    unit: 'mm',
    meaning: 'length beyond once round, to be taken up by moving the hub or by a tensioner; negative: too short',
    needs: NEEDS,
    ...drag,
    read: (r) => ofLoop(r, (l) => l.slack),
    formula: 'n*p - L',
    inputs: (r) => {
      const l = loop(r);
      const is = 'absent' in l ? undefined : l;
      return [
        { symbol: 'n', meaning: 'links or teeth', value: is?.pitches ?? Number.NaN, unit: '' },
        { symbol: 'p', meaning: 'pitch', value: (is?.pitch ?? Number.NaN) * 1000, unit: 'mm' },
        { symbol: 'L', meaning: 'once round', value: (is?.loop.length ?? Number.NaN) * 1000, unit: 'mm' },
      ];
    },
    source: 'definition',
    standing: 'definition',
    valid: LOOP_VALID,
    spread: () => 0.002,
    note: (r) => noteOfLoop(r, takenUp),
  },
  {
    id: 'drive.folded_slack',
    title: 'least slack of chain or belt in the fold',
    symbol: 'e_F',
    unit: 'mm',
    meaning:
      'length to spare where the fold parts its wheels farthest; negative: it stops the fold, tears or comes off',
    needs: NEEDS,
    ...drag,
    read: (r) => ofLoop(r, (l) => (l.fold ? l.length - l.fold.longest.need : absent('this bicycle does not fold'))),
    formula: 'n*p - L_F',
    inputs: (r) => {
      const l = loop(r);
      const is = 'absent' in l ? undefined : l;
      return [
        { symbol: 'n', meaning: 'links or teeth', value: is?.pitches ?? Number.NaN, unit: '' },
        { symbol: 'p', meaning: 'pitch', value: (is?.pitch ?? Number.NaN) * 1000, unit: 'mm' },
        {
          symbol: 'L_F',
          meaning: 'longest way round over the fold',
          value: (is?.fold?.longest.need ?? Number.NaN) * 1000,
          unit: 'mm',
        },
      ];
    },
    source: 'definition; the wheels’ places from the fold',
    standing: 'definition',
    valid: `${LOOP_VALID}; with axles out of parallel the length is the least that is needed`,
    outside: (r) => {
      const l = loop(r);
      return 'absent' in l || !l.fold?.twisted
        ? undefined
        : `the axles go more than ${(TWISTED * DEG).toFixed(0)} deg out of parallel`;
    },
    spread: () => 0.003,
    note: (r) => noteOfLoop(r, foldNote),
  },
  {
    id: 'drive.line_angle',
    title: 'angle of the chain line',
    symbol: 'b_L',
    unit: 'deg',
    meaning: 'straight run to the plane of the wheels, in the gear where it is worst',
    needs: NEEDS,
    ...drag,
    read: (r) =>
      ofLoop(
        r,
        (l) => l.line ?? absent('the file does not say how far the sprocket stands from the mid-plane: drive.hub_line'),
      ),
    steps: [
      'Offset of the sprocket, or of the outermost of several, from the chainring’s plane over the straight run.',
    ],
    source: 'common practice, no source: at most 0.5 to 1° for one sprocket or a belt, 2 to 2.5° for a derailleur',
    standing: 'practice',
    valid: 'sprockets at usual distances, from memory',
    spread: () => 0.2 / DEG,
  },
  ...BRAKING_FAMILIES,
  ...MOTOR_FAMILIES,
];

function noteOfLoop(r: Results, say: (l: LoopResult) => string | undefined): string | undefined {
  const l = loop(r);
  return 'absent' in l ? undefined : say(l);
}

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
  if (g.weightShare > 1) return `${share}: he cannot start here without pulling at the bar`;
  return `${share}: he starts ${g.weightShare > 0.5 ? 'standing' : 'seated'}`;
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
