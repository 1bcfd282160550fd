/**
 * What the trade measures on bicycles, to hold a stiffness against. All values are defaults, from memory, for frames of road
 * bicycles that do not fold, on rigs that differ from our definitions as said.
 */
import type { StiffnessId } from '#kernel';

export interface TradeBand {
  /** In `unit`; NaN where the rigs of the trade measure something else. */
  readonly low: number;
  readonly high: number;
  readonly unit: 'N/mm' | 'N.m/deg';
  readonly says: string;
}

export const TRADE_BANDS: Readonly<Partial<Record<StiffnessId, TradeBand>>> = {
  head_torsion: {
    low: 60,
    high: 110,
    unit: 'N.m/deg',
    says: 'road frames that do not fold; a joint and a long beam make a folding frame softer, a short one stiffer',
  },
  bb_pedal: {
    low: Number.NaN,
    high: Number.NaN,
    unit: 'N/mm',
    says: 'rigs push aslant beside the bottom bracket, hold the head tube, and read where they push: 40 to 70 N/mm. Here the axles are held and only the sideways motion in the middle is read, which is several times less',
  },
  bb_lateral: {
    low: Number.NaN,
    high: Number.NaN,
    unit: 'N/mm',
    says: 'no usual rig: it compares bicycles by one definition; short stays and held axles make it high',
  },
};
