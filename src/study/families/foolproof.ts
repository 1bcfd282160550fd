import type { Family } from '../family.ts';

export const FOOLPROOF_FAMILIES: readonly Family[] = [];
