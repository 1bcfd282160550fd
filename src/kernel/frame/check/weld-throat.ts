/**
 * A fillet weld all round a tube's end, square to it: stress in the throat.
 *
 * The throat is a ring of thickness a along the tube's outline, with the ring's area and second moments; torsion as Bredt's
 * flow, transverse shear at its peak. n, the line stress along the tube (axial force and bending at the worst point over the ring),
 * turns into the throat's plane at 45°: σ⊥ = τ⊥ = n/√2; τ∥ from torsion and shear.
 * Directional method, EN 1993-1-8:2005, 4.5.3.2: √(σ⊥² + 3(τ⊥² + τ∥²)) ≤ f_u/(β_w γ_M2) and σ⊥ ≤ 0.9 f_u/γ_M2. Simplified method,
 * 4.5.3.3: resultant √(n² + τ∥²) ≤ f_u/(√3 β_w γ_M2). Aluminium, EN 1999-1-1:2007, 8.6.3.3: the same stress ≤ f_w/γ_Mw. β_w = 0.8 (S235)…
 * 0.9 (S355), γ 1.25; f_w about 190 MPa for 6061 with filler 5356. All from memory.
 * Peaks of n and τ∥ are taken together, which they are not: an upper bound. Common practice: a ≥ wall.
 * Units: mm, N, MPa, N·mm. Not here: heat-affected zone beside the weld, fatigue, butt and partial welds, oblique ends.
 */
import type { Numbers } from '../../math/rigid.ts';
import { bendingStress } from '../section/stress.ts';
import { type TubeSize, tubeProperties } from '../section/tube-section.ts';
import { insist, insistPositive } from './refusal.ts';

export interface WeldStrength {
  /** Stress that the throat may reach: f_u/(β_w γ_M2) for steel, f_w/γ_Mw for aluminium, MPa. */
  readonly allowed: number;
  /** Limit of σ⊥ alone: 0.9 f_u/γ_M2; absent for aluminium. */
  readonly across?: number;
}
/** Steel: ultimate strength of the weaker part; β_w by grade. */
export const steelWeld = (fu: number, betaW: number, gammaM2 = 1.25): WeldStrength => ({
  allowed: fu / (betaW * gammaM2),
  across: (0.9 * fu) / gammaM2,
});
/** Aluminium: characteristic strength of the weld metal. */
export const aluminiumWeld = (fw: number, gammaMw = 1.25): WeldStrength => ({ allowed: fw / gammaMw });

export interface WeldStress {
  /** Stress square to the throat, and along the weld, MPa. */
  readonly across: number;
  readonly along: number;
  /** √(σ⊥² + 3(τ⊥² + τ∥²)), MPa. */
  readonly equivalent: number;
  /** Resultant on the throat's area, MPa. */
  readonly resultant: number;
  /** Utilisations by the directional and by the simplified method. */
  readonly directional: number;
  readonly simplified: number;
}

/**
 * Throat stress of a fillet all round, from the forces [N, Vy, Vz, T, My, Mz] at the tube's end in the section's axes.
 * @throws CheckRefusal for a throat that is not positive.
 */
export function filletRing(tube: TubeSize, throat: number, forces: Numbers, strength: WeldStrength): WeldStress {
  insistPositive({ throat, ...strength }, ['throat', 'allowed']);
  const { shape, height, width } = tube;
  insist(height > throat && width > throat, 'throat', 'the throat is as thick as the tube');
  const ring = tubeProperties({ shape, height: height + throat, width: width + throat, wall: throat }, 0.3);
  const cell = (shape === 'rectangular' ? 1 : Math.PI / 4) * height * width;
  // Line stress at the outline, where the throat's middle lies
  const inner = { ...ring, wy: (2 * ring.iy) / width, wz: (2 * ring.iz) / height };
  const n = Math.abs(forces[0]!) / ring.area + bendingStress(inner, forces[4]!, forces[5]!);
  const vy = forces[1]! * ring.peakY;
  const vz = forces[2]! * ring.peakZ;
  const along = Math.abs(forces[3]!) / (2 * cell * throat) + Math.sqrt(vy * vy + vz * vz);
  const across = n / Math.SQRT2;
  const equivalent = Math.sqrt(4 * across * across + 3 * along * along);
  const resultant = Math.sqrt(n * n + along * along);
  const { allowed, across: limit = Number.POSITIVE_INFINITY } = strength;
  return {
    across,
    along,
    equivalent,
    resultant,
    directional: Math.max(equivalent / allowed, across / limit),
    simplified: (resultant * Math.sqrt(3)) / allowed,
  };
}
