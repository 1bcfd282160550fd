/**
 * Trunk and arms to the grips, in the plane of travel.
 *
 * The shoulder turns about the hip on a circle; its distance to the grip, with the elbow bent by ε, is
 * s² = u² + f² + 2uf cos ε, less the lateral part. Law of cosines. Units: m, rad.
 */

/** Shoulder to grip, squared, with upper arm u and forearm f and the elbow bent by `elbow`. */
export const armSpan2 = (u: number, f: number, elbow: number): number => u * u + f * f + 2 * u * f * Math.cos(elbow);

/**
 * Trunk angle to the ground at which the shoulder is √span2 (in the plane) from grips at (gx, gz) from the hip: the more upright
 * of the two. NaN: out of reach however far it leans; π: the grips are nearer than that, whatever the trunk does.
 */
export function trunkForReach(trunk: number, gx: number, gz: number, span2: number): number {
  const g = Math.sqrt(gx * gx + gz * gz);
  const cosine = (trunk * trunk + g * g - span2) / (2 * trunk * g);
  if (cosine > 1) return Number.NaN;
  if (cosine < -1) return Math.PI;
  return Math.atan2(gz, gx) + Math.acos(cosine);
}
