/**
 * Median fatigue life of bare metal by the equivalent-stress lines of MIL-HDBK-5J (2003): from memory, figures in ksi.
 *
 *   log10 N = A − B·log10(Seq − C),   Seq = Smax·(1 − R)^x,   R = Smin/Smax
 *
 * MPa outside, ksi inside: 1 ksi = 6.894757 MPa, applied where a stress enters and leaves. Median (50 %) lines of smooth or
 * notched laboratory specimens; a design line lies lower. Below C the specimens ran out: the life is given as infinite.
 * Check for yielding first: at few cycles the lines run above the yield strength.
 * Tests covered about −1 ≤ R ≤ 0.5 and 10³ to 10⁸ cycles: `outside` says when a use does not.
 * Not here: other alloys, surface and size effects.
 */
import { power } from '../../math/power.ts';
import type { StressSwing } from './mean-stress.ts';
import { insist } from './refusal.ts';

export const MPA_PER_KSI = 6.894757;

export interface MilLine {
  readonly material: '6061-T6' | '25CrMo4';
  /** Stress concentration of the specimens, on the net section. */
  readonly kt: number;
  readonly A: number;
  readonly B: number;
  /** ksi. */
  readonly C: number;
  readonly x: number;
}

const line = (material: MilLine['material'], kt: number, A: number, B: number, C: number, x: number): MilLine => ({
  material,
  kt,
  A,
  B,
  C,
  x,
});
/** Wrought 6061-T6 unnotched; normalised 4130 sheet, unnotched and at four notches. */
export const MIL_LINES: readonly MilLine[] = [
  line('6061-T6', 1, 20.68, 9.84, 0, 0.63),
  line('25CrMo4', 1, 9.65, 2.85, 61.3, 0.41),
  line('25CrMo4', 1.5, 7.94, 2.01, 61.3, 0.88),
  line('25CrMo4', 2, 17.1, 6.49, 0, 0.86),
  line('25CrMo4', 4, 12.6, 4.69, 0, 0.63),
  line('25CrMo4', 5, 12.0, 4.57, 0, 0.56),
];

/** The line of the nearest notch at least as sharp; undefined where the table has none. */
export function milLine(material: string, kt = 1): MilLine | undefined {
  return MIL_LINES.filter((l) => l.material === material && l.kt >= kt - 1e-9).sort((a, b) => a.kt - b.kt)[0];
}

const log10 = (x: number): number => Math.log(x) / Math.LN10;
const tenTo = (x: number): number => Math.exp(x * Math.LN10);

export interface MilLife {
  readonly cycles: number;
  /** MPa. */
  readonly equivalent: number;
  /** What of the use lies outside the tests; empty when nothing does. */
  readonly outside: readonly string[];
}

/** Median life under a swing of nominal net-section stress (MPa). Infinite where nothing is pulled. */
export function milCycles(l: MilLine, swing: StressSwing): MilLife {
  const { max, min } = swing;
  insist(max >= min, 'max', 'the greatest stress is not less than the least');
  if (max <= 0) return { cycles: Number.POSITIVE_INFINITY, equivalent: 0, outside: ['no tension'] };
  const R = min / max;
  const seq = (max / MPA_PER_KSI) * power(1 - R, l.x);
  const cycles = seq > l.C ? tenTo(l.A - l.B * log10(seq - l.C)) : Number.POSITIVE_INFINITY;
  const outside = [
    ...(R < -1 || R > 0.5 ? [`stress ratio ${R.toFixed(2)} outside −1 to 0.5`] : []),
    ...(cycles < 1e3 || cycles > 1e8 ? ['life outside 10³ to 10⁸ cycles'] : []),
  ];
  return { cycles, equivalent: seq * MPA_PER_KSI, outside };
}

/** Greatest stress (MPa) for a median life at a stress ratio R < 1. */
export function milStress(l: MilLine, cycles: number, R: number): number {
  insist(cycles > 0 && R < 1, 'R', 'a stress ratio is under 1 and a life positive');
  const seq = l.C + tenTo((l.A - log10(cycles)) / l.B);
  return (seq / power(1 - R, l.x)) * MPA_PER_KSI;
}
