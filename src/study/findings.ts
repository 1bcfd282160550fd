/**
 * What the computations find wrong with a candidate's file, as problems at their place: a procedure that cannot be done as
 * written, joints that never move, a frame that is loose or held only at a dead point, cables pulled or kinked.
 *
 * They are cautions: the figures stand, and the ledger says what they mean for the demands.
 */
import { type FoldProblem, type Model, slides } from '#kernel';
import type { Path, Problem, ProblemCode } from '#project';
import type { Judged } from './workspace.ts';

const value = (m: Model, joint: number, x: number): string =>
  slides(m.top.kind[joint]!) ? `${(x * 1000).toFixed(1)} mm` : `${((x * 180) / Math.PI).toFixed(1)} deg`;

/** Message, way out and code of one finding of the fold plan. */
function words(m: Model, p: FoldProblem): { code: ProblemCode; message: string; hint: string } {
  const name = m.top.names.joints[p.joint]!;
  const other = p.other === undefined ? '' : m.top.names.joints[p.other]!;
  const at = p.value === undefined ? '' : value(m, p.other ?? p.joint, p.value);
  const range =
    p.low === undefined ? '' : `${value(m, p.other ?? p.joint, p.low)} to ${value(m, p.other ?? p.joint, p.high!)}`;
  switch (p.kind) {
    case 'still_locked':
      return { code: 'fold.move', message: `\`${name}\` is moved while it is locked`, hint: `release ${name} first` };
    case 'absent':
      return {
        code: 'fold.move',
        message: `the pin \`${name}\` has been taken out and has no motion of its own`,
        hint: 'move a joint of its loop',
      };
    case 'wrong_motion':
      return {
        code: 'fold.move',
        message: `\`${name}\` cannot make this motion`,
        hint: 'turn what turns, slide or lower what slides',
      };
    case 'out_of_range':
      return {
        code: 'fold.range',
        message: `\`${name}\` is moved to ${at}, beyond its range of ${range}`,
        hint: 'widen its range or stop earlier',
      };
    case 'follower_out_of_range':
      return {
        code: 'fold.range',
        message: `\`${other}\` follows \`${name}\` to ${at}, beyond its range of ${range}`,
        hint: 'widen its range or stop earlier',
      };
    case 'loop_cannot_close':
      return {
        code: 'loop.open',
        message: `the loop around \`${name}\` cannot follow beyond ${value(m, p.joint, p.value!)}`,
        hint: 'stop there, release a pin, or change the links',
      };
    case 'no_change':
      return {
        code: 'fold.move',
        message: `this move of \`${name}\` changes nothing`,
        hint: 'leave it out or correct its target',
      };
    case 'undetermined':
      return {
        code: 'fold.move',
        message: `\`${other}\` may move by itself while \`${name}\` is moved`,
        hint: `hold or lock ${other}`,
      };
    case 'may_flip':
      return {
        code: 'fold.move',
        message: `the loop may flip at ${value(m, p.joint, p.value!)} of \`${name}\`: motions branch there or it is a dead point`,
        hint: 'keep away from that posture, or guide it',
      };
    case 'lock_apart':
      return {
        code: 'fold.move',
        message: `the halves of \`${name}\` are ${((p.gap ?? 0) * 1000).toFixed(1)} mm apart where it is locked: nothing holds`,
        hint: 'lock it where they meet',
      };
    case 'nothing_to_release':
      return { code: 'fold.move', message: `\`${name}\` has no lock to release`, hint: 'leave this move out' };
  }
}

/** Findings of one judged candidate, in the order of its file. */
export function findings(j: Judged): Problem[] {
  const { candidate } = j;
  const { fold, cables } = j.evaluation.results;
  const { names } = candidate.model.top;
  const out: Problem[] = [];
  const say = (code: ProblemCode, path: Path, message: string, hint: string): void => {
    const span = candidate.where(path, 'value');
    const place = {
      file: candidate.file,
      path: path.join('.'),
      line: span.line,
      column: span.column,
      length: span.length,
    };
    out.push({ code, severity: 'caution', ...place, message, hint });
  };
  for (const p of fold?.plan.problems ?? []) {
    const { code, message, hint } = words(candidate.model, p);
    say(code, candidate.paths.moves[p.move] ?? ['fold'], message, hint);
  }
  if (fold?.rigidity.deadPosition)
    say(
      'loop.open',
      ['joints'],
      'the frame is rigid only at a dead position: a small push moves it a little',
      'move a pivot off the line of its links',
    );
  for (const c of cables ?? []) {
    const path = ['cables', candidate.model.cables.findIndex((x) => x.name === c.name)];
    const when = c.at.move < 0 ? 'while riding' : `in move ${c.at.move + 1}`;
    if (!c.reaches)
      say(
        'cable.short',
        path,
        `the cable \`${c.name}\` is ${(-c.margin * 1000).toFixed(0)} mm too short ${when}`,
        'give it more slack or lead it nearer to the joint’s axis',
      );
    if (c.gentlestMargin < 0)
      say(
        'cable.bend',
        path,
        `the cable \`${c.name}\` cannot bend more gently than ${(c.gentlest * 1000).toFixed(0)} mm at ${names.stations[candidate.model.cables[path[1] as number]!.stations[c.gentlestAt.point]!]}`,
        'hold it farther from the bend, or allow a tighter one',
      );
  }
  return out;
}
