/**
 * The pieces that every schema of a project file is made of.
 *
 * At this level a number is a YAML number or a text that holds a number with its unit or an expression; what it means
 * and whether its unit fits is checked when the file is resolved, where names are known.
 */
import { z } from 'zod';

export const NAME = /^[a-z][a-z0-9_]*$/;
/** A name that the designer gives: `seat_post`. */
export const name = z.string().regex(NAME);
/** A number with its unit, or an expression. `meaning` says what, with an example of the unit. */
export const amount = (meaning: string) => z.union([z.number(), z.string()]).describe(meaning);
export const text = (meaning: string) => z.string().min(1).describe(meaning);
/** `yes` or `no`; YAML's true and false do as well. */
export const yesNo = (meaning: string) => z.union([z.boolean(), z.enum(['yes', 'no'])]).describe(meaning);
export const isYes = (value: boolean | 'yes' | 'no' | undefined): boolean => value === true || value === 'yes';
/** Three amounts along x forward, y left, z up. */
export const triple = (meaning: string) => z.tuple([amount('x'), amount('y'), amount('z')]).describe(meaning);
export const named = <T extends z.ZodType>(value: T) => z.record(name, value);
export const format = z.literal(1).describe('Version of the file format.');

export type Amount = string | number;
