/**
 * Share of the pedals' power that reaches the wheel.
 *
 * Chain 0.976 (Martin et al. 1998, measured on one clean racing drive); a belt 0.97 and a hub gear's planets 0.97 more are from memory.
 * Dirt and small sprockets cost some per cent. Not here: the load's and the gear's influence.
 */
export const CHAIN_EFFICIENCY = 0.976;
export const BELT_EFFICIENCY = 0.97;
export const HUB_GEAR_EFFICIENCY = 0.97;

export const driveEfficiency = (kind: 'chain' | 'belt', hubGears: number): number =>
  (kind === 'belt' ? BELT_EFFICIENCY : CHAIN_EFFICIENCY) * (hubGears > 1 ? HUB_GEAR_EFFICIENCY : 1);
