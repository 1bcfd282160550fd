/** Effort: agreement with published figures, one file a subject. */
import type { Case } from '../case.ts';
import { handsCases } from './hands-cases.ts';
import { liftCases } from './lift-cases.ts';
import { timeCases } from './time-cases.ts';

export const cases: readonly Case[] = [...timeCases, ...liftCases, ...handsCases];
