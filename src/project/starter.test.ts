import { describe, expect, it } from 'vitest';
import {
  clash,
  crankSweep,
  newClash,
  newPosedShapes,
  planFold,
  poseBodies,
  poseShapes,
  provePath,
  rigidWhenLocked,
} from '#kernel';
import { nudgeLiteral } from './nudge.ts';
import { readProject } from './project.ts';
import { renderProblems } from './render.ts';
import { setValue } from './save.ts';
import { starterFiles } from './starter.ts';

/** The brief of the starter asks for this; the proof's own tolerance is 0.2 mm. */
const CLEARANCE_M = 2e-3;

const read = (name: string) => {
  const files = starterFiles(name);
  return { files, ...readProject(files) };
};

describe('starter project', () => {
  it('is read without a problem, not even a caution', () => {
    const { files, problems, project } = read('Harbour');
    expect(renderProblems(problems, files)).toBe('');
    expect(project?.candidates.map((c) => c.id)).toEqual(['side_beam']);
  });

  it('keeps any name in its place', () => {
    for (const name of [
      'a: b # c',
      '"',
      '- x',
      '',
      '\n\u0000format: 9',
      '{',
      '日本',
      'x'.repeat(1000),
      '*a',
      'yes',
      '12',
    ]) {
      const files = new Map(starterFiles(name));
      files.delete('candidates/side_beam.yaml');
      expect(readProject(files).problems, name).toEqual([]);
    }
  });

  it('has a bicycle that is rigid, folds without touching itself, and turns its cranks', () => {
    const { model } = read('Harbour').project!.candidates[0]!;
    const state = model.newState();
    model.fill(model.x, state);
    const posed = newPosedShapes(model.top);
    poseBodies(model.top, state);
    poseShapes(model.top, state, posed);
    const ride = newClash();
    clash(model.top, posed, ride);
    expect(ride.gap).toBeGreaterThan(CLEARANCE_M);
    expect(rigidWhenLocked(model, state).rigid).toBe(true);
    const plan = planFold(model, state);
    expect(plan.problems).toEqual([]);
    const proofs = provePath(model, state, plan);
    expect(proofs).toHaveLength(4);
    for (const proof of [...proofs, crankSweep(model, state)!]) {
      expect(proof.complete).toBe(true);
      expect(proof.least!.proven, `${model.top.names.joints[proof.joint]}`).toBeGreaterThan(CLEARANCE_M);
    }
    // The check can fail: without its offset pin the hinge drives the halves into each other.
    const flat = { ...model, x: Float64Array.from(model.x) };
    flat.x[model.top.names.dimensions.indexOf('hinge_side')] = 0.01;
    model.fill(flat.x, state);
    expect(Math.min(...provePath(model, state, planFold(model, state)).map((p) => p.least!.gap))).toBeLessThan(0);
  });

  it('can be edited as a person would drag it, and stays sound', () => {
    const files = new Map(starterFiles('Harbour'));
    const path = 'candidates/side_beam.yaml';
    const text = nudgeLiteral('beam_height', 0.5, 0.51);
    expect(text.refused).toBe('this follows beam_height: change that instead');
    const edit = setValue(files.get(path)!, ['dimensions', 'beam_height'], nudgeLiteral('500 mm', 0.5, 0.51).text!);
    expect(edit.source).toBe(files.get(path)!.replace('beam_height: 500 mm', 'beam_height: 510 mm'));
    files.set(path, edit.source!);
    expect(readProject(files).problems).toEqual([]);
  });
});
