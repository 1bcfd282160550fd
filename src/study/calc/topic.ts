/**
 * A calculation that the command line offers on its own: JSON in, JSON out, units in key names.
 *
 * One file per topic in this folder, named for it, exporting `topic`; `index.ts` lists them. Each has a contract example
 * `examples/calc/<topic>.json` = {"input": …, "output": …}, which the tests validate against both schemas and recompute.
 */
import type { z } from 'zod';

export interface CalcTopic<I = unknown, O = unknown> {
  /** As typed on the command line: `steer-geometry`. */
  readonly name: string;
  /** One line: what it computes. */
  readonly meaning: string;
  /** Method and source, one or two lines. */
  readonly method: string;
  /** Strict schemas: unknown keys, NaN and Infinity are refused; every field carries a description with its unit. */
  readonly input: z.ZodType<I>;
  readonly output: z.ZodType<O>;
  /** @throws CalcRefusal where the input is well-formed but has no answer. */
  run(input: I): O;
}

/** Input that is well-formed but has no answer; becomes a problem with code `calc.input` and exit 2. */
export class CalcRefusal extends Error {
  readonly path: string;
  readonly details: Readonly<Record<string, unknown>>;
  constructor(message: string, path = '', details: Readonly<Record<string, unknown>> = {}) {
    super(message);
    this.path = path;
    this.details = details;
  }
}

/** A structure that nothing holds: its problem carries the node and the direction in which it is free. */
export class CalcMechanism extends CalcRefusal {
  readonly node: string;
  readonly direction: string;
  constructor(message: string, node: string, direction: string) {
    super(message, `nodes.${node}`, { node, direction });
    this.node = node;
    this.direction = direction;
  }
}
