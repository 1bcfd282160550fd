/** Frame: agreement with published figures, one list a topic. */
import type { Case } from '../case.ts';
import { beamCases } from './beam-cases.ts';
import { caseCases } from './case-cases.ts';
import { checkCases } from './check-cases.ts';
import { cases as fatigue } from './fatigue-cases.ts';
import { jointCases } from './joint-cases.ts';
import { referenceCases } from './reference-cases.ts';

export const cases: readonly Case[] = [
  ...beamCases,
  ...caseCases,
  ...checkCases,
  ...fatigue,
  ...jointCases,
  ...referenceCases,
];
