/**
 * The frame on a candidate's sheet: how much of its strength it uses and where, how it bends, whose flexibility that is, what
 * its locks have left. Everything is read from the evaluation; a discipline that did not run is named, not computed here. Only
 * the stiffer joint is solved for.
 */
import { CASES_CAUTION, type CaseId, type CaseResult, FATIGUE_CAUTION, type StiffnessId } from '#kernel';
import { type Judged, placeWords, type Results, stifferJoint } from '#study';
import { frameMoment } from './frame-moment.ts';
import { frameShape, timesTooLarge } from './frame-shape.ts';
import { bothSides, frameShares } from './frame-shares.ts';
import type { FrameResult } from './frame-sheet.ts';
import { frameStress } from './frame-stress.ts';
import {
  lockTable,
  modelNotes,
  otherChecks,
  stateWords,
  stiffnessTable,
  stiffnessTitle,
  stiffnessWords,
} from './frame-tables.ts';
import { type UseBar, useBars } from './frame-use.ts';
import { absentWords, figure, type Part } from './section.ts';
import { type Picture, plainText, tag } from './svg.ts';
import { candidateName, capital, prose, spaced } from './words.ts';

const SHOWN_SHARES: readonly StiffnessId[] = ['bar_fore_aft', 'head_torsion', 'bb_lateral'];
/** A joint half as stiff again. */
const STIFFER = 1.5;
/** As many tubes have a bar. */
const TUBES = 10;
const HOW_TO_ASK =
  'The frame was not computed: give the brief a demand or wish on one of its quantities, such as `frame.service_use` or `frame.head_torsion`';

type Named = readonly [CaseId, CaseResult];
const ofKind = (frame: FrameResult, ...kinds: readonly string[]): Named[] =>
  [...frame.cases].filter(([, c]) => kinds.includes(c.frameCase.kind)).sort((a, b) => b[1].worst.use - a[1].worst.use);
const titleOf = ([, c]: Named): string => c.frameCase.title;
const stateOf = (c: CaseResult, state: number): string => c.loads.labels[state] ?? '';
const strong = (words: string): string => tag('strong', {}, plainText(words));

export function frameSection(j: Judged): Part {
  const { frame, failures } = j.evaluation.results;
  const head = tag('h3', {}, 'Frame');
  if (!frame) return { markup: head + absentWords(failures.frame ?? HOW_TO_ASK) };
  const counted = ofKind(frame, 'service', 'test_static', 'test_fatigue');
  const pictures = counted[0] ? drawings(j, frame, counted[0]) : { markup: '' };
  return {
    markup: [
      head,
      tag('h4', {}, 'Strength used'),
      tag('div', { class: 'figures' }, ...useFigures(j, frame)),
      tag('h4', {}, 'Where, and how it bends'),
      pictures.markup,
      tag('h4', {}, 'Stiffness'),
      stiffness(j, frame),
      tag('h4', {}, 'Locks'),
      locks(j.evaluation.results),
      details(j, frame),
    ].join(''),
    ...(pictures.scale ? { scale: pictures.scale } : {}),
  };
}

function useFigures(j: Judged, frame: FrameResult): string[] {
  const name = candidateName(j);
  const chart = (list: readonly UseBar[], limit: string, misses: boolean, what: string, more: string): string =>
    list.length === 0
      ? ''
      : figure(
          useBars(list, { limit, misses }),
          `${what}, ${name}: ${list.map((b) => `${b.label} ${b.value.toFixed(2)}`).join(', ')}`,
          strong(`${what}.`) + more,
        );
  const use = (n: Named): UseBar => ({ label: titleOf(n), value: n[1].worst.use });
  const service = ofKind(frame, 'service');
  const tests = ofKind(frame, 'test_static', 'test_fatigue');
  const fatigue = [...frame.cases]
    .filter(([, c]) => (c.fatigue?.point ?? -1) >= 0)
    .sort((a, b) => a[1].fatigue!.reserve - b[1].fatigue!.reserve);
  const counted = [...service, ...tests];
  const limit = 'all of the strength';
  // the worse of two sides stands for both
  const byName = new Map<string, UseBar>();
  frame.model.bearing.tubes.forEach((tube, t) => {
    for (const n of counted) {
      const label = capital(bothSides(placeWords(tube.name)));
      const value = n[1].useOfTube[t]!;
      if (value > (byName.get(label)?.value ?? 0)) byName.set(label, { label, say: titleOf(n).toLowerCase(), value });
    }
  });
  const tubes = [...byName.values()].sort((x, y) => y.value - x.value);
  const rest = tubes.slice(TUBES);
  const below = rest[0] ? ` The other ${rest.length} use ${rest[0].value.toFixed(2)} at most.` : '';
  return [
    tag(
      'div',
      {},
      chart(
        service.map(use),
        limit,
        true,
        'Use in service',
        ' Heaviest rider and luggage; stress over yield at the worst place.',
      ),
      chart(
        fatigue.map((n) => ({ label: titleOf(n), value: n[1].fatigue!.reserve })),
        'the range that the code’s detail allows',
        false,
        'Reserve in fatigue tests',
        ' Allowed over computed range: it ranks designs and forecasts no test.',
      ),
    ),
    chart(
      tests.map(use),
      limit,
      true,
      'Use in tests',
      ' Standard tests as beam models; greatest stress over strength.',
    ),
    chart(tubes.slice(0, TUBES), limit, true, 'Use by tube', ` The worst of all cases, which is named.${below}`),
  ];
}

/** The first of these cases that was run. */
function pick(frame: FrameResult, ...ids: readonly CaseId[]): Named | undefined {
  for (const id of ids) {
    const c = frame.cases.get(id);
    if (c) return [id, c];
  }
  return undefined;
}

function drawings(j: Judged, frame: FrameResult, worst: Named): Part {
  const where = (n: Named, state: number): string => stateWords(titleOf(n), stateOf(n[1], state));
  const balanced = (c: CaseResult): string =>
    c.frameCase.kind === 'service'
      ? ' Loads are in balance; small weights are not drawn.'
      : ' Small weights are not drawn.';
  const parts: string[] = [];
  const put = (picture: Picture, title: string, caption: string): void => {
    parts.push(figure(picture, title, caption));
  };
  const state = Math.max(0, worst[1].worst.state);
  const stress = frameStress(j, frame, worst[1], state);
  put(
    stress,
    `Strength used along the members, ${where(worst, state)}: worst ${stress.worst}`,
    strong(`Strength used, ${where(worst, state)}.`) +
      plainText(
        ` The case that uses most: ${stress.worst.replace('× ', '')} from its first end. Solid is within the strength, hatched beyond it.${balanced(worst[1])}`,
      ),
  );
  const bent = pick(frame, 'seated', 'vertical', 'pedalling');
  if (bent) {
    const moment = frameMoment(j, frame, bent[1], 0);
    const list = moment.peaks
      .slice(0, 3)
      .map((p) => `${p.tube}${p.tubes > 1 ? ' and its twin' : ''} ${p.moment.toFixed(0)} N·m`);
    put(
      moment,
      `Bending moments in the plane of the drawing, ${where(bent, 0)}: ${list.join(', ')}`,
      strong(`Bending moments, ${where(bent, 0)}.`) +
        plainText(
          ` In the plane of the drawing, on the side in tension: ${list.join(', ')}. Tubes one behind the other are added.${balanced(bent[1])}`,
        ),
    );
  }
  const moved = pick(frame, 'stroke', 'pedalling', 'seated');
  if (moved) {
    const shape = frameShape(j, frame, moved[1], 0);
    const said = `Deflected shape, ${where(moved, 0)}, drawn ${timesTooLarge(shape.times)}: greatest motion ${shape.most.toFixed(1)} mm, ${shape.where}`;
    put(
      shape.side,
      said,
      strong(`How it bends, ${where(moved, 0)}.`) +
        plainText(
          ` Drawn ${timesTooLarge(shape.times)}; greatest motion ${shape.most.toFixed(1)} mm (${shape.where})${heldStill(frame, moved[1])}. Joints closed, tyres and wheels rigid.`,
        ),
    );
    if (shape.above)
      put(
        shape.above,
        `${said}, seen from above`,
        strong('The same from above,') + plainText(` front to the right; drawn ${timesTooLarge(shape.times)}.`),
      );
  }
  return { markup: tag('div', { class: 'plates' }, ...parts), scale: ['frame', stress.reduction] };
}

/** Motions are counted from what the case holds: one node in cases that are in balance. */
function heldStill(frame: FrameResult, c: CaseResult): string {
  const nodes = new Set(c.loads.supports.map((s) => s.node));
  if (nodes.size !== 1) return '';
  const { places } = frame.model.context;
  const [node] = nodes;
  return node === places.rearAxle
    ? ', the rear axle held still'
    : node === places.frontAxle
      ? ', the front axle held still'
      : '';
}

function stiffness(j: Judged, frame: FrameResult): string {
  const { stiffness: found, failures } = j.evaluation.results;
  if (!found) return absentWords(failures.stiffness ?? HOW_TO_ASK);
  const pictures = SHOWN_SHARES.flatMap((id) => {
    const s = found.get(id);
    if (!s) return [];
    const picture = frameShares(s.shares);
    const title = stiffnessTitle(id);
    return [
      figure(
        picture,
        `Shares of the deflection, ${title}: ${picture.shares.map((x) => `${x.name} ${x.percent.toFixed(1)} %`).join(', ')}`,
        strong(`Who gives: ${title}.`) +
          plainText(` ${stiffnessWords(s.value, s.test.rotates)}.${stiffer(frame, id, s)}`),
      ),
    ];
  });
  return tag('div', { class: 'figures' }, ...pictures) + stiffnessTable(found);
}

function stiffer(
  frame: FrameResult,
  id: StiffnessId,
  s: NonNullable<ReturnType<NonNullable<Results['stiffness']>['get']>>,
): string {
  if (!s.softest) return ' No joint gives.';
  const { name, share } = s.softest;
  const found = stifferJoint(frame.model, frame.solver, id, name, STIFFER);
  const first = ` Softest joint: ${spaced(name)}, ${(100 * share).toFixed(0)} % of the motion.`;
  if (!found) return first;
  const gain = found.after / found.before - 1;
  return `${first} Half as stiff again it would make ${stiffnessWords(found.after, found.rotates)} of it (${gain < 0 ? '−' : '+'}${(100 * Math.abs(gain)).toFixed(Math.abs(gain) < 0.0995 ? 1 : 0)} %).`;
}

function locks({ frameJoints, failures }: Results): string {
  if (!frameJoints)
    return absentWords(failures.frame_joints ?? HOW_TO_ASK.replace('frame.service_use', 'frame.least_opening'));
  const adjustable = frameJoints.ages.filter((a) => a.readjustable).map((a) => spaced(a.joint));
  return (
    lockTable(frameJoints) +
    tag(
      'p',
      { class: 'note' },
      plainText(
        `Below 1 (×) the face opens: its stiffness drops and pin and latch carry all; under a blow (a step, a kerb) for a moment, in riding for good. Wear coefficients are from memory and their range is wide.${adjustable.length ? ` An adjuster sets the preload back: ${adjustable.join(', ')}.` : ''}`,
      ),
    )
  );
}

function details(j: Judged, frame: FrameResult): string {
  const notes = modelNotes(frame);
  const cautions = [CASES_CAUTION, FATIGUE_CAUTION];
  const caseNotes = [...new Set([...frame.cases.values()].flatMap((c) => c.loads.notes))];
  return (
    tag('ul', { class: 'caution' }, ...cautions.map((c) => tag('li', {}, prose(c)))) +
    tag(
      'details',
      {},
      tag('summary', {}, 'Other checks, and what the model assumed'),
      otherChecks(j),
      notes.length + caseNotes.length
        ? tag('ul', { class: 'small-print' }, ...[...notes, ...caseNotes].map((n) => tag('li', {}, prose(capital(n)))))
        : tag('p', { class: 'note' }, 'Nothing was bridged and no formula left its range.'),
    )
  );
}
