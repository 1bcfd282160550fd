import { z } from 'zod';
import { lugByCurves, lugByHand, pinStress, pinUse } from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';
import { refusedAt } from './tube-input.ts';

const MPa = (what: string) => z.number().positive().describe(`${what}, MPa`);
const mm = (what: string) => z.number().positive().describe(`${what}, mm`);

const input = z.strictObject({
  D_mm: mm('Hole'),
  W_mm: mm('Width across the load'),
  t_mm: mm('Thickness'),
  e_mm: mm('Hole’s centre to the edge along the load'),
  Ftu_MPa: MPa('Ultimate tensile strength'),
  Fsu_MPa: MPa('Ultimate shear strength; 0.6 Ftu if absent').optional(),
  Fbru_MPa: MPa('Ultimate bearing strength; 1.5 Ftu to e/D = 1.5, up to 2 Ftu at 2, if absent').optional(),
  load_N: z.number().positive().optional().describe('Load along the lug, N: gives utilisations'),
  curves: z
    .strictObject({
      Kbru: z.number().positive().describe('Shear-bearing efficiency, from the chart'),
      Kt: z.number().positive().describe('Net-tension efficiency, from the chart'),
      Ftux_MPa: MPa('Ultimate tensile strength across the grain'),
      Fbry_MPa: MPa('Bearing yield strength; no limit if absent').optional(),
      elongation_pct: z.number().positive().optional().describe('Elongation at break, %'),
    })
    .optional()
    .describe('Chart values of the Melcon–Hoblit method, for its loads beside those by hand'),
  pin: z
    .strictObject({
      d_mm: mm('Pin'),
      bore_mm: z.number().nonnegative().optional().describe('Bore of a hollow pin, mm; 0 if absent'),
      outer_mm: mm('Thickness of one outer plate'),
      inner_mm: mm('Thickness of the inner plate; the lug’s if absent').optional(),
      gap_mm: z.number().nonnegative().optional().describe('Gap on each side, mm; 0 if absent'),
      load_N: z.number().positive().optional().describe('Load, N; the lug’s if absent'),
      Fyp_MPa: MPa('Yield strength of the pin').optional(),
      Fup_MPa: MPa('Ultimate strength of the pin').optional(),
      Fy_MPa: MPa('Yield strength of the plates').optional(),
    })
    .optional()
    .describe('Pin in double shear; needs a load. With its three strengths also its utilisation'),
});

const N = (what: string) => z.number().describe(`${what}, N`);
const stress = (what: string) => z.number().describe(`${what}, MPa`);
const output = z.strictObject({
  net_tension_N: N('Ultimate load of the net section'),
  shear_out_N: N('Ultimate load of the planes at 40°'),
  bearing_N: N('Ultimate load of the hole’s edge'),
  ultimate_N: N('The least of them'),
  governs: z.enum(['net_tension', 'shear_out', 'bearing']).describe('Which gives first'),
  use: z.number().optional().describe('Load over the least of them'),
  curves: z
    .strictObject({
      net_tension_N: N('Net tension'),
      shear_bearing_N: N('Shear and bearing together'),
      ultimate_N: N('The lesser'),
      governs: z.enum(['net_tension', 'shear_bearing']).describe('Which gives first'),
      use: z.number().optional().describe('Load over the lesser'),
    })
    .optional()
    .describe('By chart values'),
  pin: z
    .strictObject({
      arm_mm: z.number().describe('Arm of the moment, mm'),
      moment_Nmm: z.number().describe('Bending moment, N·mm'),
      bending_MPa: stress('Bending stress'),
      shear_MPa: stress('Mean shear stress on one plane'),
      von_mises_MPa: stress('Von Mises stress of both together, an upper bound'),
      bearing_inner_MPa: stress('Pressure on the inner plate'),
      bearing_outer_MPa: stress('Pressure on one outer plate'),
      use: z.number().optional().describe('Utilisation after EN 1993-1-8, 1 = at the limit'),
    })
    .optional()
    .describe('Pin in double shear'),
  outside: z.array(z.string()).describe('Why the method’s range does not hold; empty inside it'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

const LUG_PATHS: Readonly<Record<string, string>> = {
  hole: 'D_mm',
  width: 'W_mm',
  thickness: 't_mm',
  edge: 'e_mm',
  Kbru: 'curves.Kbru',
  Kt: 'curves.Kt',
};
const PIN_PATHS: Readonly<Record<string, string>> = { load: 'pin.load_N', bore: 'pin.bore_mm', gap: 'pin.gap_mm' };

function pinOf(given: Input): Output['pin'] {
  const { pin } = given;
  if (!pin) return undefined;
  if (pin.d_mm > given.D_mm)
    throw new CalcRefusal(`a pin of ${pin.d_mm} mm does not go into a hole of ${given.D_mm} mm`, 'pin.d_mm');
  return refusedAt(PIN_PATHS, () => {
    const of = {
      load: pin.load_N ?? given.load_N ?? Number.NaN,
      diameter: pin.d_mm,
      bore: pin.bore_mm ?? 0,
      outer: pin.outer_mm,
      inner: pin.inner_mm ?? given.t_mm,
      gap: pin.gap_mm ?? 0,
    };
    const s = pinStress(of);
    const { Fyp_MPa: Fyp, Fup_MPa: Fup, Fy_MPa: Fy } = pin;
    return {
      arm_mm: s.arm,
      moment_Nmm: s.moment,
      bending_MPa: s.bending,
      shear_MPa: s.shear,
      von_mises_MPa: s.vonMises,
      bearing_inner_MPa: s.bearingInner,
      bearing_outer_MPa: s.bearingOuter,
      ...(Fyp === undefined || Fup === undefined || Fy === undefined ? {} : { use: pinUse(of, { Fyp, Fup, Fy }).use }),
    };
  });
}

/** A lug and its pin. */
export const topic: CalcTopic<Input, Output> = {
  name: 'lug',
  meaning: 'what a lug carries along its axis and what gives first; stresses of its pin in double shear',
  method:
    'Hand method of Bruhn (net tension, 40° shear-out, bearing); Melcon–Hoblit where chart values are given; pin EN 1993-1-8, 3.13. Formulas from memory. Static strength: fatigue at the hole is not in it',
  input,
  output,
  run(given) {
    return refusedAt(LUG_PATHS, () => {
      const lug = {
        hole: given.D_mm,
        width: given.W_mm,
        thickness: given.t_mm,
        edge: given.e_mm,
        Ftu: given.Ftu_MPa,
        ...(given.Fsu_MPa === undefined ? {} : { Fsu: given.Fsu_MPa }),
        ...(given.Fbru_MPa === undefined ? {} : { Fbru: given.Fbru_MPa }),
      };
      const load = given.load_N;
      const hand = lugByHand(lug);
      const c = given.curves;
      const charts =
        c &&
        lugByCurves(lug, {
          Kbru: c.Kbru,
          Kt: c.Kt,
          Ftux: c.Ftux_MPa,
          ...(c.Fbry_MPa === undefined ? {} : { Fbry: c.Fbry_MPa }),
          ...(c.elongation_pct === undefined ? {} : { elongation: c.elongation_pct }),
        });
      const pin = pinOf(given);
      return {
        net_tension_N: hand.netTension,
        shear_out_N: hand.shearOut,
        bearing_N: hand.bearing,
        ultimate_N: hand.ultimate,
        governs: hand.governs,
        ...(load === undefined ? {} : { use: load / hand.ultimate }),
        ...(charts
          ? {
              curves: {
                net_tension_N: charts.netTension,
                shear_bearing_N: charts.shearBearing,
                ultimate_N: charts.ultimate,
                governs: charts.governs,
                ...(load === undefined ? {} : { use: load / charts.ultimate }),
              },
            }
          : {}),
        ...(pin ? { pin } : {}),
        outside: [...hand.outside, ...(charts?.outside ?? [])],
      };
    });
  },
};
