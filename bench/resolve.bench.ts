/** Resolving a candidate, and filling a state: at rest, and while one dimension moves. */

import { resolveCandidate } from '../src/project/resolve.ts';
import { readDocument } from '../src/project/text.ts';
import { beamYaml } from '../test/fixtures/beam.ts';
import { measure } from './measure.ts';

const yaml = beamYaml();
const read = () => readDocument('candidates/beam.yaml', yaml).document!;
const document = read();
const { model } = resolveCandidate(document).candidate!;
const s = model.newState();
const x = model.x.slice();
console.log(
  `${model.top.shapeBody.length} shapes, ${model.top.pairs.length / 2} pairs, ${model.top.massBody.length} masses`,
);

measure('read YAML of a candidate', () => read().source.length);
measure('resolve a candidate', () => resolveCandidate(document).candidate!.slots.length);
measure('fill, nothing changed', () => {
  model.fill(x, s);
  return s.value[0]!;
});
let step = 0;
for (const [name, index, size] of [
  ['wheelbase', 0, 1e-7],
  ['beam_od', 3, 1e-9],
] as const)
  measure(`fill, ${name} changed`, () => {
    x[index] = model.x[index]! + size * (step++ % 1000);
    model.fill(x, s);
    return s.mass[0]!;
  });
