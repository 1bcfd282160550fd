/**
 * Effort: times of folding and unfolding (after the hand forces that they read), all drag quantities of effort, lifting and
 * carrying (settle). Aim: effort and hands together 1 ms. Real candidates of examples/quayside at their own dimensions.
 */
import { evaluate, plan } from '#study';
import { runEffort } from '../src/study/run/effort.ts';
import { runFold } from '../src/study/run/fold.ts';
import { runHands } from '../src/study/run/hands.ts';
import { runMass } from '../src/study/run/mass.ts';
import { quayside } from '../test/fixtures/quayside.ts';
import { measure } from './measure.ts';

const { candidates, setting, reference } = quayside();

for (const candidate of candidates) {
  const { model, id } = candidate;
  const s = model.newState();
  model.fill(model.x, s);
  const mass = runMass(model, s);
  const fold = runFold(model, s);
  const hands = runHands(candidate, s, setting, mass, fold);
  measure(
    `${id}: seconds of ${model.fold.length} steps, there and back`,
    () => {
      const { fold: there, unfold } = runEffort(candidate, s, setting, mass, fold, hands);
      return there.seconds + unfold.seconds;
    },
    { aim_us: 400 },
  );
  const drag = plan(candidate, setting, reference, ['drag']);
  const own = drag.quantities.filter((q) => q.id.startsWith('effort.'));
  const { results } = evaluate(plan(candidate, setting, reference, ['drag'], new Set(own.map((q) => q.id))));
  measure(
    `${id}: ${own.length} drag quantities of effort read`,
    () =>
      own.reduce((sum, q) => {
        const value = q.family.read(results, q.slot);
        return sum + (typeof value === 'number' ? value : 0);
      }, 0),
    { aim_us: 100 },
  );
}
