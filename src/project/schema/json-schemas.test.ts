import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { jsonSchemas } from './json-schemas.ts';

type Node = { [key: string]: unknown; properties?: Record<string, Node>; anyOf?: Node[] };

describe('JSON Schemas for editors', () => {
  it.each(Object.entries(jsonSchemas()))(
    'of %s files are written out as they are; npm run docs writes them',
    (name, schema) => {
      const file = new URL(`../../../docs/reference/schema/${name}.json`, import.meta.url);
      expect(readFileSync(file, 'utf8')).toBe(`${JSON.stringify(schema, null, 2)}\n`);
    },
  );
  it('refuse unknown keys and describe their fields', () => {
    const candidate = (jsonSchemas().candidate as Node).anyOf![0]!;
    expect(candidate['additionalProperties']).toBe(false);
    expect(candidate.properties!['candidate']!['description']).toBe('The name people see.');
    expect(candidate['required']).toEqual(['format', 'candidate', 'stations', 'bodies']);
  });
});
