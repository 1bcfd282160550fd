/**
 * What the desk will ask for while a hand drags: all quantities of the `drag` tier of one candidate (aim 5 ms), of `drag` and
 * `settle` together (aim 100 ms), one ledger, and the parts that they are made of. Real candidates of examples/quayside.
 */
import { massInto, newMassBuffer } from '#kernel';
import { evaluate, judge, plan } from '#study';
import { quayside } from '../test/fixtures/quayside.ts';
import { measure } from './measure.ts';

const workspace = quayside();

for (const candidate of workspace.candidates) {
  const s = candidate.model.newState();
  const x = candidate.model.x.slice();
  const wheelbase = 0;
  let turn = 0;
  /** A different bicycle every time, as under a dragging hand. */
  const nudge = (): void => {
    turn = (turn + 1) % 7;
    x[wheelbase] = candidate.model.x[wheelbase]! + 1e-5 * turn;
  };
  const shapes = candidate.model.top.names.shapes.length;
  const label = `${candidate.id} (${shapes} shapes, ${candidate.model.top.pairs.length / 2} pairs)`;
  measure(`${label}: fill`, () => {
    nudge();
    candidate.model.fill(x, s);
    return s.station[3]!;
  });
  const buffer = newMassBuffer(candidate.model.top.bodyCount);
  measure(`${label}: mass of all bodies`, () => {
    massInto(candidate.model.top, s, buffer);
    return buffer.whole[0]!;
  });
  const drag = plan(candidate, workspace.setting, workspace.reference, ['drag']);
  const all = plan(candidate, workspace.setting, workspace.reference);
  const sum = (v: Float64Array): number => v.reduce((a, b) => a + (Number.isFinite(b) ? b : 0), 0);
  measure(
    `${label}: drag tier, ${drag.quantities.length} quantities`,
    () => {
      nudge();
      return sum(evaluate(drag, x, s).value);
    },
    { aim_us: 5_000, budget_ms: 1500 },
  );
  measure(
    `${label}: drag and settle, ${all.quantities.length} quantities`,
    () => {
      nudge();
      return sum(evaluate(all, x, s).value);
    },
    { aim_us: 100_000, budget_ms: 1500 },
  );
  const evaluation = evaluate(all, candidate.model.x, s);
  measure(`${label}: ledger`, () => judge(workspace.brief, evaluation).score);
}
