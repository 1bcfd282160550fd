/** Weighings of the file: `total` or a body, mass and spread as slots. */
import type { CandidateData } from '../schema/candidate-schema.ts';
import { DIMENSION } from '../units.ts';
import type { Draft } from './draft.ts';
import { unknown } from './names.ts';
import { amountOrNone, readAmount } from './reader.ts';

export interface WeighingDraft {
  readonly name: string;
  readonly mass: number;
  readonly spread: number;
}

export function readWeighings(draft: Draft, data: CandidateData): WeighingDraft[] {
  return Object.entries(data.weighed ?? {}).flatMap(([name, w]): WeighingDraft[] => {
    const path = ['weighed', name];
    if (name !== 'total' && !draft.bodies.includes(name)) {
      unknown(draft.reader, path, name, ['total', ...draft.bodies], 'body');
      return [];
    }
    return [
      {
        name,
        mass: readAmount(draft.reader, [...path, 'mass'], w.mass, DIMENSION.mass),
        spread: amountOrNone(draft.reader, [...path, 'spread'], w.spread, DIMENSION.mass),
      },
    ];
  });
}
