/** Mass discipline: totals of the bicycle in the ride posture. */
import { type MassTotals, type Model, massTotals, type State } from '#kernel';

export interface MassResult extends MassTotals {}

/** `s` must be filled and in the ride posture. */
export const runMass = (m: Model, s: State): MassResult => massTotals(m, s);
