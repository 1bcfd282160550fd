import type { Family } from '../family.ts';

export const DRIVE_FAMILIES: readonly Family[] = [];
