/**
 * Metric bolts: thread geometry, preload from torque, stress while tightening.
 *
 * ISO 68-1 profile: d₂ = d − 0.649519 p, d₃ = d − 1.226869 p; stress area A_s = π/4 ((d₂ + d₃)/2)² (ISO 898-1).
 * Torque T = F [p/2π + μ_t d₂/(2 cos 30°) + μ_h d_n/2] (VDI 2230-1, ISO 16047; long form), d_n = 1.3 d where the head's ring is
 * not given (default, from memory). Nut factor K = T/(F d).
 * Tightening stress: F/A_s with the thread's share of the torque, τ = 16 T_t/(π d_s³), von Mises.
 * Scatter of preload at a given torque: ±25 % by torque wrench, ±30 % and more by feel (common practice, no source).
 * Coarse pitches ISO 261; proof stresses ISO 898-1 and ISO 3506-1, all from memory: check against the edition that you bought.
 * Units: mm, N, MPa, N·mm. Not here: fine threads' list, thread stripping, loosening by transverse slip.
 */
import { insist, insistPositive } from './refusal.ts';

/** Pitch of ISO metric coarse threads by nominal diameter, mm. */
export const COARSE_PITCH: Readonly<Record<string, number>> = {
  M3: 0.5,
  M4: 0.7,
  M5: 0.8,
  M6: 1,
  M8: 1.25,
  M10: 1.5,
  M12: 1.75,
  M14: 2,
  M16: 2,
};
/** Proof stress by property class, MPa; sizes up to M16. A2-70 and A4-80: 0.2 % proof stress. */
export const PROOF_STRESS: Readonly<Record<string, number>> = {
  '4.6': 225,
  '5.6': 280,
  '5.8': 380,
  '8.8': 580,
  '10.9': 830,
  '12.9': 970,
  'A2-70': 450,
  'A4-80': 600,
};
/** Relative scatter of preload at a given torque: torque wrench, by feel. */
export const PRELOAD_SCATTER = { wrench: 0.25, hand: 0.3 } as const;

export interface Thread {
  readonly diameter: number;
  readonly pitch: number;
  /** Pitch and root diameter, mm; stress area, mm². */
  readonly d2: number;
  readonly d3: number;
  readonly stressArea: number;
}

/** @throws CheckRefusal when the thread would be as deep as the bolt. */
export function metricThread(diameter: number, pitch: number): Thread {
  insistPositive({ diameter, pitch }, ['diameter', 'pitch']);
  insist(pitch < diameter / 2, 'pitch', 'the thread is too coarse for the bolt');
  const d2 = diameter - 0.649519 * pitch;
  const d3 = diameter - 1.226869 * pitch;
  const ds = (d2 + d3) / 2;
  return { diameter, pitch, d2, d3, stressArea: (Math.PI / 4) * ds * ds };
}

export interface BoltFriction {
  readonly thread: number;
  readonly head: number;
  /** Mean diameter of the ring under the head or nut, mm; 1.3 d when absent. */
  readonly headDiameter?: number;
}
export interface TighteningArm {
  /** Torque per newton of preload, mm: stretching the bolt, friction in the thread, friction under the head; their sum. */
  readonly pitch: number;
  readonly thread: number;
  readonly head: number;
  readonly total: number;
}
const COS30 = Math.sqrt(3) / 2;

/** Where the torque goes. @throws CheckRefusal for negative friction. */
export function tighteningArm(
  t: Thread,
  { thread, head, headDiameter = 1.3 * t.diameter }: BoltFriction,
): TighteningArm {
  insist(thread >= 0, 'thread', 'friction cannot be negative');
  insist(head >= 0, 'head', 'friction cannot be negative');
  const arm = threadArm(t.pitch, t.d2, headDiameter, thread, head);
  return { ...arm, total: arm.pitch + arm.thread + arm.head };
}

/** Torque per newton of preload in a thread and under its head, mm: pitch and the two frictions; loosening turns the sign of the pitch. */
export const threadArm = (
  pitch: number,
  d2: number,
  headDiameter: number,
  thread: number,
  head: number,
): Omit<TighteningArm, 'total'> => ({
  pitch: pitch / (2 * Math.PI),
  thread: (thread * d2) / (2 * COS30),
  head: (head * headDiameter) / 2,
});

/** Preload, N, of a torque, N·mm. */
export const preloadFromTorque = (t: Thread, torque: number, friction: BoltFriction): number =>
  torque / tighteningArm(t, friction).total;

/** Von Mises stress in the thread while a preload is being tightened, MPa. */
export function tighteningStress(t: Thread, preload: number, friction: BoltFriction): number {
  const { pitch, thread } = tighteningArm(t, friction);
  const ds = (t.d2 + t.d3) / 2;
  const sigma = preload / t.stressArea;
  const tau = (16 * preload * (pitch + thread)) / (Math.PI * ds * ds * ds);
  return Math.sqrt(sigma * sigma + 3 * tau * tau);
}
