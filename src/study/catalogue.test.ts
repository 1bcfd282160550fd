import { describe, expect, it } from 'vitest';
import { compileExpression, parseExpression, parseUnit, readProject, sameDimension, starterFiles } from '#project';
import { expectWithin } from '../../test/expect-within.ts';
import { CATALOGUE } from './catalogue.ts';
import { readQuantity } from './evaluate.ts';
import { inputDimension } from './explain.ts';
import { type Family, isAbsent } from './family.ts';
import { unitFactor } from './judge.ts';
import { judgeCandidate, openWorkspace } from './workspace.ts';

/** Inputs are handed over in display units: a factor and its inverse cost a few units in the last place. */
const SAME_FORMULA = { relative: 1e-12, absolute: 1e-15 };

const { project } = readProject(starterFiles('catalogue'));
const workspace = openWorkspace(project!);
const judged = judgeCandidate(workspace, workspace.candidates[0]!, ['drag', 'settle', 'ask']);

/** The printed formula through the expression language of the files, in SI. */
function evaluateFormula(family: Family, slot: string): { value: number; unitFits: boolean } {
  const inputs = family.inputs!(judged.evaluation.results, slot);
  const values = Float64Array.from(inputs, (i) => i.value * unitFactor(i.unit));
  const { node, problems } = parseExpression(family.formula!);
  expect(problems).toEqual([]);
  const { compiled, problems: wrong } = compileExpression(node!, {
    lookup(name) {
      const slotIndex = inputs.findIndex((i) => i.symbol === name);
      return slotIndex < 0 ? undefined : { slot: slotIndex, dimension: inputDimension(inputs[slotIndex]!) };
    },
    names: () => inputs.map((i) => i.symbol),
  });
  expect(wrong).toEqual([]);
  const unit = family.unit === '' ? undefined : parseUnit(family.unit)!;
  return {
    value: compiled!.evaluate(values),
    unitFits: sameDimension(compiled!.dimension, unit?.dimension ?? [0, 0, 0, 0, 0]),
  };
}

describe('the catalogue', () => {
  const withFormula = judged.evaluation.quantities.filter((q) => q.family.formula !== undefined);

  it('prints formulas that give the figures they stand for, in the units they say', () => {
    expect(withFormula.length).toBeGreaterThan(8);
    for (const q of withFormula) {
      const got = readQuantity(judged.evaluation.results, q);
      if (isAbsent(got)) continue;
      const printed = evaluateFormula(q.family, q.slot);
      expectWithin(printed.value, got, SAME_FORMULA, q.id);
      expect(printed.unitFits, `${q.id} in ${q.family.unit}`).toBe(true);
    }
  });

  it('would notice a wrong formula', () => {
    const trail = CATALOGUE.find((f) => f.id === 'steer.trail')!;
    const wrong = { ...trail, formula: '(r*cos(g) - f)/cos(g)' };
    const got = trail.read(judged.evaluation.results, '');
    expect(Math.abs(evaluateFormula(wrong, '').value - (got as number))).toBeGreaterThan(0.01);
  });

  it('says of every quantity what it is, where it comes from, how it is found and when it holds', () => {
    for (const f of CATALOGUE) {
      for (const text of [f.title, f.symbol, f.meaning, f.source, f.valid])
        expect(text.length, f.id).toBeGreaterThan(0);
      expect(f.formula !== undefined || (f.steps?.length ?? 0) > 0, f.id).toBe(true);
      expect(f.formula === undefined || f.inputs !== undefined, f.id).toBe(true);
      expect(f.unit === '' || parseUnit(f.unit) !== undefined, f.id).toBe(true);
    }
    expect(new Set(CATALOGUE.map((f) => f.id)).size).toBe(CATALOGUE.length);
  });

  it('gives a finite figure with a spread that is not negative, or a reason', () => {
    judged.evaluation.quantities.forEach((q, i) => {
      const reason = judged.evaluation.reason[i];
      if (reason !== undefined) {
        expect(reason.length, q.id).toBeGreaterThan(5);
        expect(judged.evaluation.value[i], q.id).toBeNaN();
        return;
      }
      expect(Number.isFinite(judged.evaluation.value[i]), q.id).toBe(true);
      expect(q.family.spread(judged.evaluation.results, q.slot), q.id).toBeGreaterThanOrEqual(0);
    });
  });
});
