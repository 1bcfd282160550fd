import type { ClearanceField } from './clearance-field.ts';

/** A bicycle as its riders meet it; m. */
export interface FitGeometry {
  readonly crank: { readonly x: number; readonly z: number; readonly length: number };
  /** Saddle top in the file's posture; direction in which it rises (unit); range from there; `marked`: least insertion limits it. */
  readonly saddle: { readonly x: number; readonly z: number; readonly low: number; readonly high: number };
  readonly rise: { readonly x: number; readonly z: number };
  readonly grip: { readonly x: number; readonly z: number; readonly half: number };
  /** Fields round what turns with the bar and round what does not, in the plane of the knees; the bar's may be displaced. */
  readonly bar: ClearanceField;
  readonly barShift: { readonly x: number; readonly z: number };
  readonly frameAtKnee: ClearanceField;
  readonly wheelAtToe: ClearanceField;
  readonly frameAtHeel: ClearanceField;
  readonly frameAtLeg: ClearanceField;
  /** Height of the frame where one stands over it; NaN where there is no such place. */
  readonly over: number;
  /** kg. */
  readonly rating: number;
}
