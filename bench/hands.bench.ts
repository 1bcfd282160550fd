/**
 * Hands: forces along every move, latches and who can (drag tier, aim 0.5 ms); gaps that close on fingers and foolproofing
 * (settle tier, aims 20 and 100 ms). Real candidates of examples/quayside at their own dimensions.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { readProject } from '#project';
import { openWorkspace } from '#study';
import { runFold } from '../src/study/run/fold.ts';
import { runFoolproof } from '../src/study/run/foolproof.ts';
import { runHands } from '../src/study/run/hands.ts';
import { runMass } from '../src/study/run/mass.ts';
import { runPinch } from '../src/study/run/pinch.ts';
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
const { candidates, setting } = openWorkspace(project);

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
