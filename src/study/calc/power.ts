import { z } from 'zod';
import {
  AIR_DENSITY,
  CHAIN_EFFICIENCY,
  type RoadLoad,
  roadPower,
  roadSpeed,
  rollingBySize,
  tyreDiameter,
  UPRIGHT_DRAG,
} from '#kernel';
import { readTyreSize } from '#project';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const KMH = 1 / 3.6;
const DEG = Math.PI / 180;
const input = z.strictObject({
  mass_kg: z.number().positive().describe('Bicycle, rider and luggage, kg'),
  speed_kmh: z.number().nonnegative().max(200).optional().describe('Ground speed, km/h; or give power_W'),
  power_W: z.number().nonnegative().max(5000).optional().describe('Power at the pedals, W: gives the speed'),
  grade_pct: z.number().min(-60).max(60).optional().describe('Rise over run, %; 0 if absent'),
  crr: z.number().nonnegative().lt(1).optional().describe('Rolling resistance; from etrto if absent, else 0.005'),
  etrto: z.string().max(20).optional().describe('Tyre size, for the rolling resistance by wheel size: 40-406'),
  cda_m2: z.number().nonnegative().optional().describe(`Drag area, m²; ${UPRIGHT_DRAG.area} (upright) if absent`),
  wheel_drag_m2: z.number().nonnegative().optional().describe('Drag area of the turning wheels, m²; 0 if absent'),
  air_kgm3: z.number().nonnegative().optional().describe(`Density of the air, kg/m³; ${AIR_DENSITY} if absent`),
  efficiency: z
    .number()
    .positive()
    .max(1)
    .optional()
    .describe(`Wheel power over pedal power; ${CHAIN_EFFICIENCY} (clean chain) if absent`),
  wind: z
    .strictObject({
      speed_mps: z.number().nonnegative().describe('Wind speed at the rider, m/s'),
      from_deg: z.number().describe('Where it comes from, deg clockwise from north'),
      heading_deg: z.number().describe('Where the bicycle goes to, deg clockwise from north'),
    })
    .optional()
    .describe('Calm if absent'),
  change: z
    .strictObject({
      from_kmh: z.number().nonnegative().describe('Speed at the start, km/h'),
      to_kmh: z.number().nonnegative().describe('Speed at the end, km/h'),
      seconds: z.number().positive().describe('Time between, s'),
    })
    .optional()
    .describe('Change of speed over the way; steady if absent'),
  wheel_inertia_kgm2: z.number().nonnegative().optional().describe('Both wheels together, kg·m²; 0 if absent'),
  wheel_radius_mm: z.number().positive().optional().describe('Their radius, mm; needed with the inertia'),
});
const W = (what: string) => z.number().describe(`${what}, W`);
const output = z.strictObject({
  power_W: W('At the pedals; 0 where the bicycle rolls by itself'),
  speed_kmh: z.number().describe('Ground speed, km/h'),
  air_W: W('Air'),
  rolling_W: W('Rolling'),
  bearing_W: W('Bearings'),
  grade_W: W('Slope; negative downhill'),
  kinetic_W: W('Change of speed'),
  wheel_W: W('Sum, at the wheel; negative: for the brakes'),
  yaw_deg: z.number().describe('Between the air that the rider meets and the way, deg'),
  crr: z.number().describe('Rolling resistance taken'),
  per_km_kJ: z.number().nullable().describe('Work at the pedals per km, kJ; null at rest'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

function rollingOf(given: Input): number {
  if (given.crr !== undefined) return given.crr;
  if (given.etrto === undefined) return 0.005;
  const size = readTyreSize(given.etrto);
  if (!size)
    throw new CalcRefusal(`${JSON.stringify(given.etrto)} is no tyre size: width and rim in mm, as in 40-406`, 'etrto');
  return rollingBySize(tyreDiameter(size.beadSeat, size.width)).value;
}

/** Power to ride, or the speed that a power gives. */
export const topic: CalcTopic<Input, Output> = {
  name: 'power',
  meaning: 'power at the pedals for a speed, or the speed for a power, with its parts',
  method:
    'J. C. Martin et al., J. Appl. Biomech. 14 (1998) 276–291; the speed is the root of the same formula. Defaults from memory but for the chain. Docs: methods/drive',
  input,
  output,
  run(given) {
    if ((given.speed_kmh === undefined) === (given.power_W === undefined))
      throw new CalcRefusal('give speed_kmh or power_W, one of them', 'speed_kmh');
    if (given.change && given.power_W !== undefined)
      throw new CalcRefusal('a change of speed goes with a speed, not with a power', 'change');
    if (given.wheel_inertia_kgm2 !== undefined && given.wheel_radius_mm === undefined)
      throw new CalcRefusal('the inertia of wheels needs their radius', 'wheel_radius_mm');
    const crr = rollingOf(given);
    const load: RoadLoad = {
      mass: given.mass_kg,
      grade: (given.grade_pct ?? 0) / 100,
      rolling: crr,
      dragArea: given.cda_m2 ?? UPRIGHT_DRAG.area,
      wheelDragArea: given.wheel_drag_m2 ?? 0,
      airDensity: given.air_kgm3 ?? AIR_DENSITY,
      efficiency: given.efficiency ?? CHAIN_EFFICIENCY,
      wheelInertia: given.wheel_inertia_kgm2 ?? 0,
      wheelRadius: (given.wheel_radius_mm ?? 0) / 1000,
      ...(given.wind
        ? {
            wind: {
              speed: given.wind.speed_mps,
              from: given.wind.from_deg * DEG,
              heading: given.wind.heading_deg * DEG,
            },
          }
        : {}),
    };
    let speed = (given.speed_kmh ?? 0) * KMH;
    if (given.power_W !== undefined) {
      const found = roadSpeed(load, given.power_W);
      if (!found.converged) throw new CalcRefusal(`no steady speed: ${found.reason}`, 'power_W');
      speed = found.speed;
    }
    const { change } = given;
    const p = roadPower(
      load,
      speed,
      change && { from: change.from_kmh * KMH, to: change.to_kmh * KMH, seconds: change.seconds },
    );
    return {
      power_W: p.pedals,
      speed_kmh: speed / KMH,
      air_W: p.air,
      rolling_W: p.rolling,
      bearing_W: p.bearing,
      grade_W: p.grade,
      kinetic_W: p.kinetic,
      wheel_W: p.wheel,
      yaw_deg: p.yaw / DEG,
      crr,
      per_km_kJ: speed > 0 ? p.pedals / speed : null,
    };
  },
};
