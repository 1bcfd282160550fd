/**
 * What the checks know of a tube's material and welds. MPa, mm.
 */
import type { FatigueCurve } from '../fatigue/index.ts';

/** A welded detail: which stress its curve asks for, and the curve. */
export interface DetailCurve {
  readonly name: string;
  readonly stress: 'nominal' | 'hot-spot';
  readonly curve: FatigueCurve;
}
export interface TubeStrength {
  /** Proof or yield strength; where a material has none, what its parts are designed to. */
  readonly yield: number;
  /** Ultimate strength, of the tube and beside a weld. */
  readonly ultimate: number;
  readonly hazUltimate: number;
  /** Of the metal beside a weld, and how far that reaches. Equal to `yield` after heat treatment of the whole part. */
  readonly hazYield: number;
  readonly hazWidth: number;
  /** Poisson's ratio. */
  readonly nu: number;
  /** For tubes that stand on the side of another, for tubes welded to a block, for the wall to which others are welded, for the bare wall. */
  readonly onTube: DetailCurve | undefined;
  readonly onPlate: DetailCurve | undefined;
  readonly carrying: DetailCurve | undefined;
  readonly bare: DetailCurve | undefined;
}
