/** Quantities of an electric drive. */
import { AIR_FREE, AIR_WITH_APPROVAL, COLD_SHARE, USABLE_SHARE } from '#kernel';
import { type Absent, absent, type Family, single } from '../family.ts';
import type { Results } from '../results.ts';
import type { MotorResult } from '../run/motor.ts';

const CAUTION =
  'Electric drives are machines: EN 15194 or local law, a type test, battery safety (EN 50604-1, UN 38.3) and licensed practice decide. Figures here compare what the file states.';
const common = { tier: 'drag', needs: ['drive'], slots: single, caution: CAUTION } as const;

const motor = (r: Results, read: (m: MotorResult) => number | Absent): number | Absent =>
  r.drive!.motor ? read(r.drive!.motor) : absent('this candidate has no motor');
const withBattery = (r: Results, read: (m: MotorResult) => number | Absent): number | Absent =>
  motor(r, (m) => (m.battery > 0 ? read(m) : absent('no battery among the parts')));
/** Riders, settings and weather: the figures that owners report lie between 4 and 8 Wh/km. */
const USE_SPREAD = 0.3;

export const MOTOR_FAMILIES: readonly Family[] = [
  {
    id: 'drive.motor_power',
    title: 'continuous power of the motor',
    symbol: 'P_m',
    unit: 'W',
    meaning: 'as the file states it',
    ...common,
    read: (r) => motor(r, (m) => m.figures.power),
    formula: 'P',
    inputs: (r) => [
      { symbol: 'P', meaning: 'rated power', value: r.drive!.motor?.figures.power ?? Number.NaN, unit: 'W' },
    ],
    source: 'EN 15194 and 16 CFR 1512.2 limit it',
    standing: 'published',
    valid: 'the file’s figure, measured after EN 60034-1 by whoever makes it',
    spread: () => 0,
    note: (r) => {
      const g = r.drive!.motor?.grip;
      if (!g) return undefined;
      const holds = g.thrust <= g.wet ? 'holds' : 'would slip';
      return `in the front wheel: it pulls ${g.thrust.toFixed(0)} N up the steepest street, a wet road holds about ${g.wet.toFixed(0)} N there: ${holds}`;
    },
  },
  {
    id: 'drive.legal_misses',
    title: 'limits of law that the motor misses',
    symbol: 'n_l',
    unit: '',
    meaning: 'rules of an assisted bicycle in the brief’s region that the stated figures do not hold; 0: all hold',
    ...common,
    read: (r) => motor(r, (m) => m.law.filter((v) => !v.holds).length),
    steps: ['Power, speed, walking help, voltage and drive without pedalling, each against its limit.'],
    source:
      'EN 15194:2017, scope (250 W continuous, 25 km/h, off when pedalling stops; 48 V and 6 km/h from memory); US 16 CFR 1512.2(a)(2) (below 750 W and 20 mph)',
    standing: 'published',
    valid: 'EU unless the brief’s region is US; states and countries have rules of their own',
    spread: () => 0,
    note: (r) =>
      r
        .drive!.motor?.law.map((v) => `${v.rule.meaning}: ${v.holds ? 'holds' : 'misses'} (${v.rule.source})`)
        .join('; '),
  },
  {
    id: 'drive.consumption',
    title: 'consumption of the battery',
    symbol: 'c_m',
    unit: 'Wh/km',
    meaning: 'drawn over the brief’s way, flat and climb, at the file’s setting of assistance',
    ...common,
    read: (r) => motor(r, (m) => m.perMetre),
    steps: [
      'Power of the road at the speeds that rider and motor keep; the motor gives its share of it, at most its continuous power and not beyond its speed.',
      'Over the efficiency of motor and controller; the climb counts by its length; nothing comes back downhill.',
    ],
    source: 'J. C. Martin et al. 1998 for the road; efficiency 0.75 from memory; owners report 4 to 8 Wh/km',
    standing: 'memory',
    valid: 'dry, even road, no wind, few stops',
    spread: (r) => USE_SPREAD * (r.drive!.motor?.perMetre ?? 0),
  },
  {
    id: 'drive.range',
    title: 'range on a new battery',
    symbol: 'R_m',
    unit: 'km',
    meaning: 'the brief’s way over and over until the battery is empty',
    ...common,
    read: (r) =>
      withBattery(r, (m) => (Number.isFinite(m.range) ? m.range : absent('the motor gives nothing at this speed'))),
    formula: 'E*u/c',
    inputs: (r) => [
      { symbol: 'E', meaning: 'energy of the battery', value: r.drive!.motor?.battery ?? Number.NaN, unit: 'Wh' },
      { symbol: 'u', meaning: 'usable share', value: USABLE_SHARE, unit: '' },
      {
        symbol: 'c',
        meaning: 'consumption',
        value: (r.drive!.motor?.perMetre ?? Number.NaN) / 3.6,
        unit: 'Wh/km',
      },
    ],
    source: 'usable share from memory',
    standing: 'memory',
    valid: 'new battery at 20 °C; a fifth less near freezing, from memory',
    spread: (r) => USE_SPREAD * (r.drive!.motor?.range ?? 0),
    note: (r) => {
      const m = r.drive!.motor;
      if (!m || !Number.isFinite(m.range)) return undefined;
      return `${((m.range * COLD_SHARE) / 1000).toFixed(0)} km near freezing; as baggage in the air (${AIR_FREE} Wh free, ${AIR_WITH_APPROVAL} Wh with approval, from memory): ${m.air}`;
    },
  },
];
