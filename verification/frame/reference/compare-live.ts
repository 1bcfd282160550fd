/**
 * Runs the reference program on every frame and compares with `recorded.json` and with our solver.
 *
 *   npx tsx verification/frame/reference/compare-live.ts            compare (exit 1 where a recorded value is not reproduced)
 *   npx tsx verification/frame/reference/compare-live.ts --record   run and write recorded.json and decks/
 *   npx tsx verification/frame/reference/compare-live.ts --study    mesh study on three frames
 *
 * Needs `ccx` (Debian package calculix-ccx); not part of the tests.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ccxVersion, runCcx } from './ccx.ts';
import { frameNames, loadFrame, withHamperedEnds, withoutShear } from './frames.ts';
import {
  type Answer,
  answerOf,
  BEAM_ELEMENTS,
  beamAnswerOf,
  beamDeckOf,
  beamNames,
  type FrameRecord,
  RECORDED,
  type Recorded,
  readRecorded,
  solidDeckOf,
  type Variant,
  variantOf,
} from './recorded.ts';
import { largest, ours, worst } from './rows.ts';
import { MESH, type Mesh } from './solid-deck.ts';

/** The program prints seven digits; solver and threads may turn the last ones. */
const REPRODUCED = 2e-6;
const percent = (x: number): string => `${(100 * x).toFixed(3)} %`;

/** Lists of numbers on one line each, as the formatter has them. */
const inRows = (json: string): string =>
  json.replace(/\[\s+([-\d.e,\s]+?)\s+\]/g, (_, list: string) => `[${list.replace(/\s+/g, ' ')}]`);

function live(name: string): FrameRecord {
  const solid = (variant: Variant): Answer => {
    const deck = solidDeckOf(name, variant);
    return answerOf(variantOf(loadFrame(name), variant), deck, runCcx(deck.text));
  };
  const record = { own: solid('own'), no_contraction: solid('no_contraction') };
  if (!beamNames.includes(name)) return record;
  const deck = beamDeckOf(name);
  return { ...record, beam_element: beamAnswerOf(loadFrame(name), deck, runCcx(deck.text)) };
}

/** Largest difference of two records' numbers over the largest number of the same table and kind. */
function apart(a: FrameRecord, b: FrameRecord): number {
  const pairs = [
    [a.own, b.own],
    [a.no_contraction, b.no_contraction],
  ].flatMap(([x, y]) => [
    worst(x!.displacements, y!.displacements, 0),
    worst(x!.displacements, y!.displacements, 3),
    worst(x!.reactions, y!.reactions, 0),
    worst(x!.reactions, y!.reactions, 3),
    Math.abs((x!.buckling_factor ?? 1) / (y!.buckling_factor ?? 1) - 1),
    x!.deck === y!.deck ? 0 : 1,
  ]);
  const [e, f] = [a.beam_element, b.beam_element];
  if (e && f) pairs.push(worst(e.displacements, f.displacements, 0), e.deck === f.deck ? 0 : 1);
  return Math.max(...pairs);
}

function show(name: string, record: FrameRecord): void {
  const line = (
    what: string,
    answer: Pick<Answer, 'displacements' | 'buckling_factor'>,
    o: ReturnType<typeof ours>,
  ) => {
    const top = largest(answer.displacements, 0);
    const there = o.displacements[top.node]![top.component]!;
    const turns = largest(answer.displacements, 3).value !== 0;
    const buckling = answer.buckling_factor ? o.buckling_factor! / answer.buckling_factor - 1 : undefined;
    console.log(
      `  ${what.padEnd(34)} u ${top.value} at ${top.node}: ours ${percent(there / top.value - 1)}, worst ` +
        percent(worst(o.displacements, answer.displacements, 0)) +
        (turns ? `, worst turn ${percent(worst(o.displacements, answer.displacements, 3))}` : '') +
        (buckling === undefined ? '' : `, buckling ${answer.buckling_factor}: ours ${percent(buckling)}`),
    );
  };
  const [own, bare] = [loadFrame(name), variantOf(loadFrame(name), 'no_contraction')];
  console.log(name);
  line('bricks, ν = 0', record.no_contraction, ours(bare));
  line('bricks, ν = 0; ours without shear', record.no_contraction, ours(withoutShear(bare)));
  line('bricks', record.own, ours(own));
  line('bricks; ours with hampered ends', record.own, ours(withHamperedEnds(own)));
  line('bricks; ours without shear', record.own, ours(withoutShear(own)));
  if (record.beam_element) line('B32R', record.beam_element, ours(own));
}

function study(): void {
  const meshes: Mesh[] = [
    { ...MESH, around: 8 },
    { ...MESH, around: 12 },
    MESH,
    { ...MESH, around: 24 },
    { ...MESH, ends: [] },
    { ...MESH, ends: [0.25, 0.5] },
    { ...MESH, middle: 5 },
    { ...MESH, middle: 1.25 },
  ];
  for (const name of ['bracket', 'column', 'stepped-post'])
    for (const mesh of meshes)
      for (const variant of ['no_contraction', 'own'] as const) {
        const frame = variantOf(loadFrame(name), variant);
        const deck = solidDeckOf(name, variant, mesh);
        const answer = answerOf(frame, deck, runCcx(deck.text));
        const { node, component, value } = largest(answer.displacements, 0);
        const there = ours(frame).displacements[node]![component]!;
        const tail = answer.buckling_factor ? ` buckling ${answer.buckling_factor}` : '';
        console.log(`${name} ${variant} ${JSON.stringify(mesh)} u ${value} ours ${percent(there / value - 1)}${tail}`);
      }
}

const version = ccxVersion();
if (version === undefined) {
  console.log('ccx is not installed (Debian package calculix-ccx): nothing compared');
  process.exit(2);
}
const option = process.argv[2];
if (option === '--study') study();
else if (option === '--record') {
  const frames = Object.fromEntries(frameNames.map((name) => [name, live(name)]));
  const date = new Date().toISOString().slice(0, 10);
  const program = 'CalculiX ccx (Debian package calculix-ccx)';
  const record: Recorded = { program, version, date, mesh: MESH, beam_elements_per_member: BEAM_ELEMENTS, frames };
  writeFileSync(RECORDED, `${inRows(JSON.stringify(record, null, 2))}\n`);
  const folder = join(import.meta.dirname, 'decks');
  mkdirSync(folder, { recursive: true });
  for (const name of beamNames) writeFileSync(join(folder, `${name}-b32r.inp`), beamDeckOf(name).text);
  for (const [name, found] of Object.entries(frames)) show(name, found);
} else {
  const recorded = readRecorded();
  console.log(`ccx ${version}; recorded with ${recorded.version} on ${recorded.date}`);
  let failed = false;
  for (const name of frameNames) {
    const found = live(name);
    const gap = apart(found, recorded.frames[name]!);
    const ok = gap <= REPRODUCED;
    failed ||= !ok;
    show(name, found);
    console.log(`  ${ok ? 'reproduced' : 'NOT REPRODUCED'}: ${gap.toExponential(1)} from the recorded values`);
  }
  process.exitCode = failed ? 1 : 0;
}
