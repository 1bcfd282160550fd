/**
 * Hands: forces along every move, latches and who can (drag tier, aim 0.5 ms); gaps that close on fingers and foolproofing
 * (settle tier, aims 20 and 100 ms). Real candidates of examples/quayside at their own dimensions.
 */
import { runFold } from '../src/study/run/fold.ts';
import { runFoolproof } from '../src/study/run/foolproof.ts';
import { runHands } from '../src/study/run/hands.ts';
import { runMass } from '../src/study/run/mass.ts';
import { runPinch } from '../src/study/run/pinch.ts';
import { quayside } from '../test/fixtures/quayside.ts';
import { measure } from './measure.ts';

const { candidates, setting } = quayside();

for (const candidate of candidates) {
  const { model, id } = candidate;
  const s = model.newState();
  model.fill(model.x, s);
  const mass = runMass(model, s);
  const fold = runFold(model, s);
  measure(
    `${id}: hand forces of ${fold.plan.segments.length} moves, latches`,
    () => runHands(candidate, s, setting, mass, fold).moves.reduce((sum, m) => sum + (m?.greatest.force ?? 0), 0),
    { aim_us: 500 },
  );
  const hands = runHands(candidate, s, setting, mass, fold);
  measure(`${id}: gaps that close on fingers`, () => runPinch(candidate, s, fold, hands).places.length, {
    aim_us: 20_000,
  });
  measure(`${id}: wrong orders, omissions, half-shut locks`, () => runFoolproof(candidate, s, fold).sweeps, {
    aim_us: 100_000,
  });
}
