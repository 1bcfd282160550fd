/**
 * A body's segments between given joints, each with its mass and inertia.
 *
 * The CoM lies on the line between the joints at the table's share of the posture's link; the radii of gyration are the
 * table's share of the table's own length scaled by stature, so that a segment's inertia belongs to the body and not to
 * the landmarks between which the posture measures. C7 closes the standing body to its stature (4 % of it above the
 * acromion in both sexes); the table's own trunk rows would make a woman 3 % too tall. Mass is the table's share of the rider's, divided by its sum.
 * Source: de Leva 1996 (`de-leva.ts`). Units SI, axes ISO 8855. Not here: clothes, soft-tissue motion.
 */

import type { RigidMass } from '../mass/rigid-mass.ts';
import { principalInertia } from '../mass/shapes.ts';
import { add, cross, norm, scale, sub, unit, type Vec3 } from '../math/rigid.ts';
import { bodyLinks, type Rider } from './body-links.ts';
import { type SegmentName, type Sex, segmentSum, segmentTable } from './de-leva.ts';

export interface Segment {
  /** `thigh_left`, `trunk`, … */
  readonly name: string;
  readonly from: Vec3;
  readonly to: Vec3;
  readonly rigid: RigidMass;
}

/** Sums of the tables, once: a rider has 14 segments. */
const SUM: Readonly<Record<Sex, number>> = {
  male: segmentSum(segmentTable('male')),
  female: segmentSum(segmentTable('female')),
  mixed: segmentSum(segmentTable('mixed')),
};

/** One segment from its first-named end `from` to `to`. The transverse axis lies as near to lateral as the segment allows. */
export function bodySegment(rider: Rider, kind: SegmentName, name: string, from: Vec3, to: Vec3): Segment {
  const table = segmentTable(rider.sex);
  const row = table.rows[kind];
  const mass = (rider.mass * row.mass_percent) / SUM[rider.sex];
  const l = ((row.length_mm / 1000) * rider.stature) / (table.stature_mm / 1000);
  const span = sub(to, from);
  const along = unit(span);
  const lateral = cross(along, Math.abs(along[1]) > 0.9 ? [0, 0, 1] : cross([0, 1, 0], along));
  const transverse = scale(lateral, 1 / norm(lateral));
  const sagittal = cross(transverse, along);
  const [rs, rt, rl] = row.radii_percent;
  const moment = (percent: number): number => mass * ((percent * l) / 100) * ((percent * l) / 100);
  return {
    name,
    from,
    to,
    rigid: {
      mass,
      com: add(from, scale(along, (norm(span) * row.com_percent) / 100)),
      inertia: principalInertia([moment(rs), moment(rt), moment(rl)], [sagittal, transverse, along]),
    },
  };
}

/** C7 on the line from mid-hip through mid-shoulder, so far above the shoulders that the standing body has its stature. */
export function c7(rider: Rider, hip: Vec3, shoulder: Vec3, shoulderHeight = bodyLinks(rider).shoulder): Vec3 {
  return add(shoulder, scale(unit(sub(shoulder, hip)), rider.stature - shoulderHeight - headLength(rider)));
}
/** Vertex to C7 of that rider. */
export const headLength = (rider: Rider): number => {
  const t = segmentTable(rider.sex);
  return (t.rows.head.length_mm * rider.stature) / t.stature_mm;
};
