/**
 * Where things stand in a JSON text, and the first thing that is wrong with it.
 *
 * JSON.parse makes the values; this scan gives what it does not: the place of every value, duplicate keys (which JSON.parse
 * silently lets the last one win), and the place of an error, which differs from one Node version to the next.
 * Grammar: RFC 8259.
 */
export interface JsonFault {
  readonly offset: number;
  readonly length: number;
  readonly path: string;
  readonly message: string;
}
export interface JsonScan {
  /** Offset of the value (not the key) at each path, written as `rear_wheel.mass_kg` or `speeds_mps.3`. */
  readonly places: ReadonlyMap<string, number>;
  readonly fault?: JsonFault;
}

/** Deeper than any input of ours, shallow enough for the stack. */
const DEEPEST = 64;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
// biome-ignore lint/suspicious/noControlCharactersInRegex: RFC 8259 forbids exactly these inside strings.
const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const WORD = /[A-Za-z_$][\w$]*/y;

class Fault extends Error {
  readonly fault: JsonFault;
  constructor(fault: JsonFault) {
    super(fault.message);
    this.fault = fault;
  }
}

export function scanJson(text: string): JsonScan {
  const places = new Map<string, number>();
  let at = text.charCodeAt(0) === 0xfeff ? 1 : 0;

  const fail = (message: string, path: string, offset = at, length = 1): never => {
    throw new Fault({ offset, length, path, message });
  };
  const match = (pattern: RegExp): string | undefined => {
    pattern.lastIndex = at;
    return pattern.exec(text)?.[0];
  };
  const space = (): void => {
    while (at < text.length && ' \t\n\r'.includes(text[at]!)) at++;
  };
  const unexpected = (path: string, wanted: string): never => {
    if (at >= text.length) return fail(`the text ends where ${wanted} should stand`, path);
    const word = match(WORD) ?? text[at]!;
    const notNumber = /^(NaN|Infinity)$/.test(word) || text.startsWith('-Infinity', at);
    if (notNumber) return fail(`${word} is not a number that JSON or this calculation knows`, path, at, word.length);
    return fail(`expected ${wanted}, found ${JSON.stringify(word)}`, path, at, word.length);
  };
  const string = (path: string, wanted: string): string => {
    const raw = match(STRING);
    if (raw === undefined) {
      if (text[at] === '"')
        return fail('this text in quotes does not end, or holds a character that needs an escape', path);
      return unexpected(path, wanted);
    }
    at += raw.length;
    return JSON.parse(raw) as string;
  };
  const value = (path: string, depth: number): void => {
    space();
    if (!places.has(path)) places.set(path, at); // an empty key would otherwise hide the object around it
    if (depth > DEEPEST) fail(`nested more than ${DEEPEST} deep`, path);
    const c = text[at];
    if (c === '{') object(path, depth);
    else if (c === '[') array(path, depth);
    else if (c === '"') string(path, 'a value');
    else plain(path);
  };
  const plain = (path: string): void => {
    const raw = match(NUMBER) ?? ['true', 'false', 'null'].find((word) => text.startsWith(word, at));
    if (raw === undefined) unexpected(path, 'a value');
    const next = text[at + (raw?.length ?? 0)] ?? ' ';
    if (/[\w.+-]/.test(next)) {
      const end = /^[\w.+-]*/.exec(text.slice(at))![0];
      fail(`expected a value, found ${JSON.stringify(end)}`, path, at, end.length);
    }
    at += raw?.length ?? 0;
  };
  const object = (path: string, depth: number): void => {
    at++;
    const seen = new Set<string>();
    for (space(); text[at] !== '}'; ) {
      space();
      const start = at;
      const key = string(path, 'a key in double quotes');
      const inner = path === '' ? key : `${path}.${key}`;
      if (seen.has(key)) fail(`the key ${JSON.stringify(key)} is given twice`, inner, start, at - start);
      seen.add(key);
      space();
      if (text[at] !== ':') unexpected(inner, 'a colon');
      at++;
      value(inner, depth + 1);
      space();
      if (text[at] === '}') break;
      if (text[at] !== ',') unexpected(path, 'a comma or a closing brace');
      at++;
      space();
      if (text[at] === '}') unexpected(path, 'a key in double quotes');
    }
    at++;
  };
  const array = (path: string, depth: number): void => {
    at++;
    space();
    for (let i = 0; text[at] !== ']'; i++) {
      value(path === '' ? String(i) : `${path}.${i}`, depth + 1);
      space();
      if (text[at] === ']') break;
      if (text[at] !== ',') unexpected(path, 'a comma or a closing bracket');
      at++;
    }
    at++;
  };

  try {
    value('', 0);
    space();
    if (at < text.length) unexpected('', 'the end');
    return { places };
  } catch (error) {
    if (error instanceof Fault) return { places, fault: error.fault };
    throw error;
  }
}
