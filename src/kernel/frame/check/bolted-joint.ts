/**
 * A preloaded bolt that a working load pulls on: the share that the bolt feels, and when the faces part.
 *
 * Springs in parallel while the faces touch: Φ = n k_b/(k_b + k_c); bolt F_p + Φ F, faces F_p − (1 − Φ) F, parting at
 * F = F_p/(1 − Φ); afterwards the bolt carries all. n: height at which the load comes in, 1 = under head and nut, 0.5 usual.
 * Bolt: 1/k_b = l_shank/(E A) + l_thread/(E A_s). Clamped parts: cones of 30° under washer faces 1.5 d wide, the same material
 * through, k_c = 0.5774 π E d/(2 ln(5(0.5774 l + 0.5 d)/(0.5774 l + 2.5 d))). Shigley's Mechanical Engineering Design, ch. 8
 * (from memory); VDI 2230-1 for n.
 * Units: mm, N, MPa. Not here: loads beside the bolt's axis (prying), settling, temperature.
 */
import type { Thread } from './bolt.ts';
import { insist, insistPositive } from './refusal.ts';

/** Stiffness of a bolt, N/mm: shank and free thread within the grip, mm. */
export function boltStiffness(t: Thread, E: number, shank: number, free: number): number {
  insist(shank >= 0 && free >= 0 && shank + free > 0, 'grip', 'the grip must be positive');
  return E / (shank / ((Math.PI / 4) * t.diameter * t.diameter) + free / t.stressArea);
}

/** Stiffness of the clamped parts, N/mm; they must be at least 2.5 d wide around the bolt. */
export function clampedStiffness(diameter: number, E: number, grip: number): number {
  insistPositive({ diameter, E, grip }, ['diameter', 'E', 'grip']);
  const l = 0.5774 * grip;
  return (0.5774 * Math.PI * E * diameter) / (2 * Math.log((5 * (l + 0.5 * diameter)) / (l + 2.5 * diameter)));
}

export interface BoltedJoint {
  readonly preload: number;
  readonly bolt: number;
  readonly clamped: number;
  /** Load introduction, 0…1; 1 when absent (the safe side for the bolt's fatigue). */
  readonly n?: number;
}
export interface BoltedState {
  /** Φ: share of the load that the bolt feels while the faces touch. */
  readonly share: number;
  /** Pull at which the faces part, N. */
  readonly opensAt: number;
  readonly boltForce: number;
  readonly faceForce: number;
  readonly open: boolean;
}

/** State under a pull `load`, N (negative: pressing). @throws CheckRefusal for stiffnesses that are not positive. */
export function boltedJoint(joint: BoltedJoint, load: number): BoltedState {
  insistPositive(joint, ['bolt', 'clamped']);
  const { preload, bolt, clamped, n = 1 } = joint;
  insist(preload >= 0, 'preload', 'a preload cannot be negative');
  insist(n >= 0 && n <= 1, 'n', 'the load comes in between 0 and 1');
  const share = (n * bolt) / (bolt + clamped);
  const opensAt = preload / (1 - share);
  const open = load >= opensAt;
  return {
    share,
    opensAt,
    open,
    boltForce: open ? load : preload + share * load,
    faceForce: open ? 0 : preload - (1 - share) * load,
  };
}
