/** The service cases as records: what a heavy rider with luggage does to the bicycle on and off the road. */
import { brakingCase } from './braking.ts';
import type { FrameCase } from './frame-case.ts';
import { seatedAtRest, seatedStroke, standingStart } from './pedalling-service.ts';
import { kerbCase, stepCase } from './road-blows.ts';
import { foldedSeat, liftingCase } from './standing-still.ts';

const HOLDS = 'no yielding, no latch opens';

export const SERVICE_CASES: readonly FrameCase[] = [
  {
    id: 'seated',
    title: 'Rider seated',
    kind: 'service',
    postures: ['ride'],
    source: 'statics',
    criterion: HOLDS,
    note: 'At rest, without any factor: roads and riders add to it. The rider’s shares on saddle, bar and pedals are kept; the centre of mass may need a little more or less of each.',
    load: seatedAtRest,
  },
  {
    id: 'stroke',
    title: 'Pedal stroke, seated',
    kind: 'service',
    postures: ['ride'],
    source: 'equilibrium of rider and bicycle; size of the force after Stone & Hull 1995',
    criterion: HOLDS,
    note: 'For the user’s spectrum. Riders differ by a factor of two.',
    load: seatedStroke,
  },
  {
    id: 'start',
    title: 'Standing start',
    kind: 'service',
    postures: ['ride'],
    source: 'equilibrium of rider and bicycle; size of the force after Soden & Adeyefa 1979, Maestrelli & Falsini 2008',
    criterion: HOLDS,
    note: 'The bicycle stays upright: what the hands pull follows from the pedal force. Racing starts reach three times the rider’s weight.',
    load: standingStart,
  },
  {
    id: 'braking',
    title: 'Braking until the rear wheel lifts',
    kind: 'service',
    postures: ['ride'],
    source: 'moments about the front contact (Riel 2005); equilibrium of a braced rider',
    criterion: HOLDS,
    note: 'On the level, front brake alone, seated. How much the arms carry is from memory: it decides the load on the bar post.',
    load: brakingCase,
  },
  {
    id: 'step',
    title: 'Over a step in the road',
    kind: 'service',
    postures: ['ride'],
    source: 'wheel on a square edge, point-contact tyre, theory',
    criterion: HOLDS,
    note: 'Tyre, rim and the part of the rider that follows are from memory. Square edges; no damping. Not for steps above half the wheel’s radius.',
    load: stepCase,
  },
  {
    id: 'kerb',
    title: 'Drop from a kerb',
    kind: 'service',
    postures: ['ride'],
    source: 'energy of fall on tyres and bent legs, theory',
    criterion: HOLDS,
    note: 'Lands on both wheels, rider standing with level pedals. A seated rider or one wheel first is harsher.',
    load: kerbCase,
  },
  {
    id: 'folded_seat',
    title: 'Sitting on the folded bicycle',
    kind: 'service',
    postures: ['folded'],
    source: 'statics',
    criterion: HOLDS,
    note: 'Whole weight on the saddle, feet off the ground. Where the saddle is not meant to be sat on when folded, the manual must say so.',
    load: foldedSeat,
  },
  {
    id: 'lifting',
    title: 'Lifting by the handle',
    kind: 'service',
    postures: ['ride', 'folded'],
    source: 'statics',
    criterion: HOLDS,
    note: 'Hangs with its centre of mass under the hand; the factor stands for the jerk.',
    load: liftingCase,
  },
];
