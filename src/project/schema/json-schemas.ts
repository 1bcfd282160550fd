/** JSON Schema of each kind of project file, for editors that check and complete while one types. */
import { z } from 'zod';
import { briefSchema } from './brief-schema.ts';
import { candidateSchema, differenceSchema } from './candidate-schema.ts';
import { partsSchema, projectSchema } from './project-schema.ts';

const TITLES = {
  project: 'foldwright.yaml: a project',
  brief: 'brief.yaml: what the product must do',
  candidate: 'candidates/*.yaml: one design, or differences from another',
  parts: 'parts.yaml: own parts over the built-in defaults',
} as const;
export type SchemaName = keyof typeof TITLES;

/** One schema per kind of file (draft 2020-12), by the name of its file in docs/reference/schema. */
export function jsonSchemas(): Record<SchemaName, Record<string, unknown>> {
  const of = (name: SchemaName, schema: z.ZodType): Record<string, unknown> => ({
    title: TITLES[name],
    ...(z.toJSONSchema(schema) as Record<string, unknown>),
  });
  return {
    project: of('project', projectSchema),
    brief: of('brief', briefSchema),
    candidate: of('candidate', z.union([candidateSchema, differenceSchema])),
    parts: of('parts', partsSchema),
  };
}
