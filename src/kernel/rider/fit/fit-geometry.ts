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

/**
 * A copy built in one place, nested records too: the hot loop reads a geometry hundreds of times a rider, and records that came
 * about in different ways (spread, edited, drawn) would each cost it a slower look-up.
 */
export const uniformGeometry = (g: FitGeometry): FitGeometry => ({
  crank: { x: g.crank.x, z: g.crank.z, length: g.crank.length },
  saddle: { x: g.saddle.x, z: g.saddle.z, low: g.saddle.low, high: g.saddle.high },
  rise: { x: g.rise.x, z: g.rise.z },
  grip: { x: g.grip.x, z: g.grip.z, half: g.grip.half },
  bar: uniformField(g.bar),
  barShift: { x: g.barShift.x, z: g.barShift.z },
  frameAtKnee: uniformField(g.frameAtKnee),
  wheelAtToe: uniformField(g.wheelAtToe),
  frameAtHeel: uniformField(g.frameAtHeel),
  frameAtLeg: uniformField(g.frameAtLeg),
  over: g.over,
  rating: g.rating,
});
const uniformField = ({ grid, plus, fill, exact }: ClearanceField): ClearanceField => ({ grid, plus, fill, exact });
