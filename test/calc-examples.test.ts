/** The contract examples of every calculation: valid by both schemas, recomputed to the last digit or nearly. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { calcSchemas, calcTopicNames, loadCalcTopic, runCalc } from '#study';
import { expectWithin } from './expect-within.ts';

const root = join(import.meta.dirname, '..');
const folder = join(root, 'examples', 'calc');
/** Sums taken in another order by another compiler; nothing physical is that sharp. */
const RECOMPUTED = { relative: 1e-12, absolute: 1e-13 };

function expectSame(actual: unknown, expected: unknown, path: string): void {
  if (typeof expected === 'number' && typeof actual === 'number') {
    expectWithin(actual, expected, RECOMPUTED, path);
  } else if (typeof expected === 'object' && expected !== null && typeof actual === 'object' && actual !== null) {
    expect(Object.keys(actual), path).toEqual(Object.keys(expected));
    for (const [key, value] of Object.entries(expected))
      expectSame((actual as Record<string, unknown>)[key], value, `${path}.${key}`);
  } else expect(actual, path).toEqual(expected);
}

test('every topic file is registered, and every topic has an example and every example a topic', () => {
  const source = join(root, 'src', 'study', 'calc');
  const files = readdirSync(source).filter((name) =>
    /export const topic\b/.test(readFileSync(join(source, name), 'utf8')),
  );
  expect(files.map((name) => name.replace('.ts', '')).sort()).toEqual(calcTopicNames);
  expect(
    readdirSync(folder)
      .map((name) => name.replace('.json', ''))
      .sort(),
  ).toEqual(calcTopicNames);
});

describe.each(calcTopicNames)('calc %s', (name) => {
  const text = readFileSync(join(folder, `${name}.json`), 'utf8');
  const example = JSON.parse(text) as { input: unknown; output: unknown };

  test('its example has an input and an output that its schemas accept', async () => {
    const topic = await loadCalcTopic(name);
    expect(topic!.name).toBe(name);
    expect(Object.keys(example)).toEqual(['input', 'output']);
    expect(topic!.input.safeParse(example.input).error).toBeUndefined();
    expect(topic!.output.safeParse(example.output).error).toBeUndefined();
  });

  test('its example is recomputed', async () => {
    const answer = runCalc((await loadCalcTopic(name))!, JSON.stringify(example.input));
    expect(answer).not.toHaveProperty('problems');
    expectSame('output' in answer ? answer.output : undefined, example.output, 'output');
  });

  test('its schemas describe every field and refuse unknown keys and strings for numbers', async () => {
    const topic = (await loadCalcTopic(name))!;
    const schemas = calcSchemas(topic) as { input: { additionalProperties?: unknown } };
    expect(schemas.input.additionalProperties).toBe(false);
    const bare: string[] = [];
    const look = (node: unknown, path: string): void => {
      if (typeof node !== 'object' || node === null) return;
      const own = node as Record<string, unknown>;
      for (const [key, value] of Object.entries((own['properties'] as object | undefined) ?? {})) {
        const field = value as Record<string, unknown>;
        const elsewhere = ['$ref', 'const'].some((word) => word in field);
        if (!field['description'] && !elsewhere && field['type'] !== 'object' && field['type'] !== 'array')
          bare.push(`${path}.${key}`);
      }
      for (const [key, value] of Object.entries(own)) look(value, `${path}.${key}`);
    };
    look(schemas, name);
    expect(bare).toEqual([]);
    const answer = runCalc(topic, JSON.stringify({ ...(example.input as object), surplus_key: 1 }));
    expect(answer).toMatchObject({ problems: [{ code: 'calc.input', path: 'surplus_key' }] });
  });
});
