import type { Family } from '../family.ts';

export const FIT_FAMILIES: readonly Family[] = [];
