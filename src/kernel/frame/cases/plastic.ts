/**
 * Permanent set after a blow: an energy balance with one plastic hinge, for screening only.
 *
 *   energy E, weight W that keeps pressing, elastic stiffness k along the force, force F_h at which a hinge turns:
 *   elastic while  k δ² / 2 ≤ E + W δ  is met below F_h, that is δ = W/k + √((W/k)² + 2E/k);
 *   beyond it      E + W (F_h/k + s) = F_h²/(2k) + F_h s,  set s = (E + W F_h/k − F_h²/(2k)) / (F_h − W).
 *
 * F_h lies between the force of first yield and that of plastic collapse: the first gives the greatest set, the second the
 * least; both are returned. Source: elastic–perfectly plastic energy balance, theory (Baker & Heyman 1969, Plastic Design
 * of Frames 1, ch. 1–2, for hinge and shape factor). Assumptions: one hinge, no strain hardening, no rate effect (steel
 * yields later under a blow), masses of the frame itself at rest, nothing buckles. Units: mm, N, N·mm.
 * Not here: several hinges in sequence, local buckling, fracture. A screening estimate, never a test result.
 */
export interface BlowInput {
  /** N·mm in one blow. */
  readonly energy: number;
  /** N; below `firstYield`. */
  readonly weight: number;
  /** N/mm along the force at its point. */
  readonly stiffness: number;
  /** Forces, N, at which the first fibre yields and at which a hinge has formed; `collapse` ≥ `firstYield`. */
  readonly firstYield: number;
  readonly collapse: number;
  /** Equal blows one after another; the sets add. */
  readonly drops?: number;
}
export interface BlowResult {
  /** True where no fibre yields: the set is 0. */
  readonly elastic: boolean;
  /** Greatest force that the structure answers, N: elastic, or that of collapse. */
  readonly peakForce: number;
  /** N·mm that the structure can take up before the first fibre yields, the weight's work not counted. */
  readonly firstYieldEnergy: number;
  /** mm along the force: least (hinge at `collapse`) and greatest (hinge at `firstYield`), all blows together. */
  readonly set: readonly [least: number, most: number];
}

/** @throws RangeError for a stiffness or force that is not above 0, `collapse` below `firstYield`, or a weight that yields it by itself. */
export function plasticBlow(input: BlowInput): BlowResult {
  const { energy, weight, stiffness: k, firstYield, collapse, drops = 1 } = input;
  if (!(k > 0 && firstYield > 0 && energy >= 0 && weight >= 0))
    throw new RangeError('stiffness and first yield must be above 0, energy and weight not below 0');
  if (!(collapse >= firstYield)) throw new RangeError('a hinge forms after first yield: collapse is too low');
  if (!(weight < firstYield)) throw new RangeError('the resting weight alone makes it yield');
  const elasticForce = forceOfEnergy(energy, k, weight);
  const set = (hinge: number): number =>
    elasticForce <= hinge
      ? 0
      : (drops * (energy + (weight * hinge) / k - (hinge * hinge) / (2 * k))) / (hinge - weight);
  return {
    elastic: elasticForce <= firstYield,
    peakForce: Math.min(elasticForce, collapse),
    firstYieldEnergy: (firstYield * firstYield) / (2 * k),
    set: [set(collapse), set(firstYield)],
  };
}

/** Force, N, at which a linear structure has taken up `energy` (N·mm) and the work of a weight that keeps pressing. */
export function forceOfEnergy(energy: number, stiffness: number, weight = 0): number {
  return weight + Math.sqrt(weight * weight + 2 * energy * stiffness);
}
