/**
 * How much the wall of a tube gives way where another tube is welded to it: local joint flexibility.
 *
 * f_ax = 1.95 γ^2.15 (1 − β)^1.3 sin^2.19 θ/(E D), f_ipb = 134 γ^1.73 e^(−4.52 β) sin^1.22 θ/(E D³),
 * f_opb = 85.5 γ^2.2 e^(−3.85 β) sin^2.16 θ/(E D³); γ = D/2T, β = d/D, θ between the axes. D, T: the tube that is welded to
 * (chord), d: the one that ends there (brace).
 * Source: Fessler, Mockford & Webster 1986, Proc. Instn Civ. Engrs Part 2, 81:659–673, parametric equations from models of
 * tubular joints. Coefficients from memory; those of the axial and in-plane terms agree with the source text of an open
 * general-purpose structural framework. The range is from memory.
 * Range: 0.3 ≤ β ≤ 0.9, 10 ≤ γ ≤ 20, 30° ≤ θ ≤ 90°. Outside, the formula is carried on and the result says so; from β = 1
 * on (a brace as wide as the chord) the axial term is 0.
 * Oval and rectangular tubes enter as the round ones of equal outside perimeter, always marked as outside: a flat wall is
 * softer than that.
 * Units: mm, N, MPa, rad. Not here: gussets, multi-planar joints, the effect of a neighbouring brace, plasticity.
 */
import { power } from '../../math/power.ts';
import type { TubeSize } from '../section/tube-section.ts';

export interface TubeWallFlex {
  /** Along the brace, mm/N. */
  readonly axial: number;
  /** Bending in the plane of both tubes, and out of it, rad/(N·mm). */
  readonly inPlane: number;
  readonly outOfPlane: number;
  /** Chord's γ = D/2T and the ratio of diameters β. */
  readonly gamma: number;
  readonly beta: number;
  /** Why the published range does not hold, in words; empty inside it. */
  readonly outside: readonly string[];
}

/** Flexibility of the chord's wall under the brace's end; `E` of the chord, MPa; `angle` between the axes, rad. */
export function tubeWallFlex(chord: TubeSize, brace: TubeSize, E: number, angle: number): TubeWallFlex {
  const D = roundOfEqualPerimeter(chord);
  const beta = roundOfEqualPerimeter(brace) / D;
  const gamma = D / (2 * chord.wall);
  const lg = Math.log(gamma);
  const ls = Math.log(Math.abs(Math.sin(angle)));
  const ED3 = E * D * D * D;
  return {
    axial: (1.95 * Math.exp(2.15 * lg + 2.19 * ls) * power(Math.max(1 - beta, 0), 1.3)) / (E * D),
    inPlane: (134 * Math.exp(1.73 * lg - 4.52 * beta + 1.22 * ls)) / ED3,
    outOfPlane: (85.5 * Math.exp(2.2 * lg - 3.85 * beta + 2.16 * ls)) / ED3,
    gamma,
    beta,
    outside: whyOutside(chord, brace, gamma, beta, angle),
  };
}

const INSIDE: readonly string[] = [];
const LEAST_ANGLE = Math.PI / 6;
/** Figures come from lengths in metres and angles from vectors: the edge of the range belongs to it. */
const EDGE = 1e-9;

function whyOutside(chord: TubeSize, brace: TubeSize, gamma: number, beta: number, angle: number): readonly string[] {
  const sine = Math.abs(Math.sin(angle));
  const flat = chord.shape !== 'round' || brace.shape !== 'round';
  const thick = gamma < 10 * (1 - EDGE);
  const thin = gamma > 20 * (1 + EDGE);
  const narrow = beta < 0.3 * (1 - EDGE);
  const wide = beta > 0.9 * (1 + EDGE);
  const steep = sine < Math.sin(LEAST_ANGLE) * (1 - EDGE);
  if (!(flat || thick || thin || narrow || wide || steep)) return INSIDE;
  const why: string[] = [];
  if (flat) why.push('a tube is not round: taken as the round one of equal perimeter');
  if (thick) why.push('the welded-to tube has a thick wall: D/2T below 10');
  if (thin) why.push('the welded-to tube has a thin wall: D/2T above 20');
  if (narrow) why.push('the ending tube is narrow: d/D below 0.3');
  if (wide) why.push('the ending tube is nearly as wide as the other or wider: d/D above 0.9');
  if (steep) why.push('the tubes meet at less than 30°');
  return why;
}

/** Diameter of the round tube of equal outside perimeter, mm; an ellipse's by Ramanujan 1914, error below 1e-4. */
export function roundOfEqualPerimeter({ shape, height, width }: TubeSize): number {
  if (shape === 'round') return height;
  if (shape === 'rectangular') return (2 * (height + width)) / Math.PI;
  const h = ((height - width) * (height - width)) / ((height + width) * (height + width));
  return ((height + width) / 2) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
}
