/**
 * Drive: road power and the speed of a power, a loop's length and the distance for a number of links, and the whole of `drive` and
 * `trip` on candidates of examples/quayside (aim: 1 ms together, as part of what follows a dragging hand).
 */
import { centresFor, chainWheel, loopAround, type RoadLoad, roadPower, roadSpeed } from '#kernel';
import { evaluate, plan } from '#study';
import { runDrive } from '../src/study/run/drive.ts';
import { runTrip } from '../src/study/run/trip.ts';
import { quayside } from '../test/fixtures/quayside.ts';
import { measure } from './measure.ts';

const load: RoadLoad = { mass: 95, rolling: 0.007, dragArea: 0.55, efficiency: 0.95, grade: 0.05 };
let turn = 0;
const nudge = (): number => {
  turn = (turn + 1) % 7;
  return 1 + 1e-5 * turn;
};
measure('drive: road power', () => roadPower(load, 5 * nudge()).pedals);
measure('drive: speed of a power', () => roadSpeed(load, 150 * nudge()).speed);
const [ring, sprocket] = [chainWheel(44), chainWheel(13)];
measure('drive: length of a chain', () => loopAround(ring, sprocket, 0.41 * nudge()).length);
measure('drive: centres for a number of links', () => centresFor(ring, sprocket, 1.2192 * nudge()).centres);

const w = quayside();
for (const candidate of [...w.candidates, ...w.extras]) {
  const s = candidate.model.newState();
  const { results: r } = evaluate(
    plan(candidate, w.setting, w.reference, ['drag', 'settle'], new Set(['trip.seconds', 'drive.braking_dry'])),
    undefined,
    s,
  );
  measure(`drive: ${candidate.id}`, () => runDrive(candidate, s, w.setting, r.mass!, r.fold!, r.steer).flat.pedals, {
    aim_us: 1000,
  });
  measure(
    `trip: ${candidate.id}`,
    () => runTrip(candidate, s, w.setting, r.mass!, r.effort!, r.burden!, r.drive!).seconds,
    {
      aim_us: 1000,
    },
  );
}
