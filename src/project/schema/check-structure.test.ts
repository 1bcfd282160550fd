import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { readDocument } from '../text.ts';
import { checkStructure, knownKeys } from './check-structure.ts';
import { amount, format, name, named } from './values.ts';

const schema = z.strictObject({
  format,
  count: z.number().int().min(0).max(9).optional(),
  place: z.union([z.tuple([amount('x'), amount('y')]), z.strictObject({ from: name, by: amount('step') })]).optional(),
  axis: z.union([z.enum(['x', 'y']), z.strictObject({ to: name })]).optional(),
  things: named(z.strictObject({ kind: z.enum(['pivot', 'slide']), size: amount('size').optional() })).optional(),
  list: z.array(z.strictObject({ name })).max(2).optional(),
});
const problems = (yaml: string) => {
  const source = `format: 1\n${yaml}`;
  const { document } = readDocument('f.yaml', source);
  return checkStructure(schema, document!).problems.map((p) => ({
    code: p.code,
    path: p.path,
    place: `${p.line}:${p.column}`,
    text: p.message,
    expected: p.expected,
    hint: p.hint,
  }));
};

describe('the structure of a file', () => {
  it('is accepted with numbers as numbers or texts', () => {
    expect(problems('place: [1, 2 mm]\nthings: {a: {kind: pivot, size: 3}}\n')).toEqual([]);
  });
  it('refuses every unknown key, at the key, with the nearest known one', () => {
    expect(problems('cuont: 3\nthings: {a: {kind: pivot, sise: 3, knid: 4}}\n')).toMatchObject([
      { code: 'key.unknown', place: '3:27', hint: 'did you mean `size`?' },
      { code: 'key.unknown', place: '3:36', hint: 'did you mean `kind`?' },
      { code: 'key.unknown', path: 'cuont', place: '2:1', hint: 'did you mean `count`?' },
    ]);
  });
  it('reports of several forms the one that was meant', () => {
    expect(problems('place: {from: a, byy: 3}\n')).toMatchObject([
      { code: 'key.missing', path: 'place.by' },
      { code: 'key.unknown', path: 'place.byy', hint: 'did you mean `by`?' },
    ]);
    expect(problems('place: [1, {a: 3}]\n')).toMatchObject([{ code: 'type.wrong', path: 'place.1' }]);
    expect(problems('axis: w\n')).toMatchObject([{ code: 'value.choice', expected: 'one of x, y' }]);
    expect(problems('place: 3\n')).toMatchObject([
      { code: 'type.wrong', text: 'place is `3`, which does not fit here', expected: 'a list, or a map of fields' },
    ]);
  });
  it('knows a missing field from a wrong one', () => {
    expect(problems('things: {a: {size: 3}}\nlist: [{name: 4}, {}]\n')).toMatchObject([
      { code: 'key.missing', text: 'things.a lacks `kind`', place: '2:10' },
      { code: 'type.wrong', path: 'list.0.name', text: 'list.0.name should be a text, not `4`' },
      { code: 'key.missing', path: 'list.1.name' },
    ]);
  });
  it('says what a count, a name and an empty list may be', () => {
    expect(problems('count: 12\n')).toMatchObject([{ code: 'value.range', expected: 'at most 9' }]);
    expect(problems('count: 1.5\n')).toMatchObject([{ code: 'type.wrong', expected: 'a whole number' }]);
    expect(problems('things: {Aa: {kind: pivot}}\n')).toMatchObject([{ code: 'name.invalid', path: 'things.Aa' }]);
    expect(problems('list: [{name: a}, {name: b}, {name: c}]\n')).toMatchObject([
      { code: 'value.range', expected: 'at most 2 entries' },
    ]);
  });
  it('refuses null, and a scalar or list where the file should begin', () => {
    expect(problems('count:\n')).toMatchObject([{ code: 'type.wrong', text: 'count should be a number, not nothing' }]);
  });
});

describe('known keys', () => {
  it('are found through optional fields, records, lists and unions', () => {
    expect(knownKeys(schema, ['things', 'a'])).toEqual(['kind', 'size']);
    expect(knownKeys(schema, ['place'])).toEqual(['from', 'by']);
    expect(knownKeys(schema, ['list', 0])).toEqual(['name']);
    expect(knownKeys(schema, ['nowhere'])).toEqual([]);
  });
});
