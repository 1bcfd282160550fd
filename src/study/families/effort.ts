import type { Family } from '../family.ts';

export const EFFORT_FAMILIES: readonly Family[] = [];
