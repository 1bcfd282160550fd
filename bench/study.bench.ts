/**
 * What the desk will ask for while a hand drags: all quantities of the `drag` tier of one candidate (aim 5 ms), of `drag` and
 * `settle` together (aim 100 ms), one ledger, and the parts that they are made of. Real candidates of examples/quayside.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { massInto, newMassBuffer } from '#kernel';
import { readProject } from '#project';
import { evaluate, judge, openWorkspace, plan } from '#study';
import { measure } from './measure.ts';

const root = new URL('../examples/quayside/', import.meta.url);
const files = new Map<string, string>();
for (const name of [
  'foldwright.yaml',
  'brief.yaml',
  ...readdirSync(new URL('candidates/', root)).map((f) => `candidates/${f}`),
])
  files.set(name, readFileSync(new URL(name, root), 'utf8'));
const { project, problems } = readProject(files);
if (!project) throw new Error(problems.map((p) => p.message).join('\n'));
const workspace = openWorkspace(project);

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
