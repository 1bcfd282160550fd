import type { Family } from '../family.ts';

export const TRIP_FAMILIES: readonly Family[] = [];
