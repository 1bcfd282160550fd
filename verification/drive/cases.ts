/** Drive: agreement with standards' sizes, closed forms, the road model's printed example and independent computations. */
import type { Case } from '../case.ts';
import { loopCases } from './loop-cases.ts';
import { roadCases } from './road-cases.ts';

export const cases: readonly Case[] = [...loopCases, ...roadCases];
