import type { Family } from '../family.ts';

export const HANDS_FAMILIES: readonly Family[] = [];
