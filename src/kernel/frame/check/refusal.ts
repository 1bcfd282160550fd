/** Input that no part can have (a hole wider than its lug, a thread deeper than its bolt); `path` names the field. */
export class CheckRefusal extends RangeError {
  readonly path: string;
  constructor(path: string, message: string) {
    super(message);
    this.path = path;
  }
}

/** @throws CheckRefusal unless `ok`. NaN-safe when `ok` is written so that NaN makes it false. */
export function insist(ok: boolean, path: string, message: string): asserts ok {
  if (!ok) throw new CheckRefusal(path, message);
}

/** @throws CheckRefusal for every field that is not positive and finite. */
export function insistPositive(given: object, fields: readonly string[]): void {
  for (const field of fields) {
    const value = (given as Readonly<Record<string, unknown>>)[field];
    insist(
      typeof value === 'number' && value > 0 && value < Number.POSITIVE_INFINITY,
      field,
      `${field} must be positive`,
    );
  }
}
