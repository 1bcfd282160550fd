/** The structure of `foldwright.yaml` and `parts.yaml`. */
import { z } from 'zod';
import { amount, format, text } from './values.ts';

export const projectSchema = z.strictObject({
  format,
  project: text('The name people see.'),
  note: z.string().optional(),
});

/** Fields other than these are values of the part that it is like, and are checked against it. */
export const ownPartSchema = z.looseObject({
  like: text('The built-in part that it resembles; its own name when left out.').optional(),
  price: amount('Purchase price: 24 EUR.').optional(),
  note: z.string().optional().describe('Where the figures come from.'),
});
export const partsSchema = z.strictObject({
  format,
  parts: z.record(z.string().min(1), ownPartSchema),
});
export type ProjectData = z.infer<typeof projectSchema>;
export type PartsData = z.infer<typeof partsSchema>;
