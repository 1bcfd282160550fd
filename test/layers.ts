/**
 * The rules between and inside layers, as a function over source texts, so that the test can plant violations.
 *
 * Not here: types (each layer's tsconfig refuses Node's and the browser's names), style (the linter).
 */
import { dirname, normalize } from 'node:path/posix';
import { parseAst } from 'vite';

/** From left to right; a layer imports only from those before it. */
export const LAYERS = ['kernel', 'project', 'study', 'draw', 'server', 'cli'] as const;
export type Layer = (typeof LAYERS)[number];

/** npm packages of each layer. `node:` stands for everything built in. A new one is a decision: docs/decisions/0003. */
export const PACKAGES: Readonly<Record<Layer, readonly string[]>> = {
  kernel: ['ml-matrix', 'pure-rand'],
  project: ['yaml', 'zod', 'jsep', 'dxf-parser'],
  study: ['zod'],
  draw: [],
  server: ['node:'],
  cli: ['node:', 'commander'],
};
const IN_TESTS = ['vitest', 'fast-check', 'node:'];

/** Their last digit differs between JavaScript engines or their versions. */
const UNSTEADY_MATH = ['random', 'hypot', 'pow', 'cbrt'];
const NOT_IN_KERNEL = ['Date', 'performance', 'process', 'console', 'crypto', 'globalThis'];

export interface Violation {
  readonly file: string;
  readonly rule:
    | 'direction'
    | 'index-only'
    | 'package'
    | 'outside'
    | 'cycle'
    | 'steady'
    | 'code-from-text'
    | 'unknown-file';
  readonly what: string;
}
interface Import {
  readonly from: string;
  readonly typeOnly: boolean;
}
type Node = Record<string, unknown> & { readonly type: string };

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';

/** Calls `visit` on every node with its parent and the parent's key. */
function walk(
  node: Node,
  visit: (node: Node, parent: Node | undefined, key: string) => void,
  parent?: Node,
  key = '',
): void {
  visit(node, parent, key);
  for (const [name, value] of Object.entries(node))
    for (const child of Array.isArray(value) ? value : [value]) if (isNode(child)) walk(child, visit, node, name);
}

function importsOf(tree: Node): Import[] {
  const found: Import[] = [];
  walk(tree, (node) => {
    const source = node['source'];
    if (!isNode(source)) return;
    if (source.type !== 'Literal' || typeof source['value'] !== 'string') {
      found.push({ from: '(computed)', typeOnly: false });
      return;
    }
    const parts = (node['specifiers'] ?? []) as Node[];
    const kinds = parts.map((part) => part['importKind'] ?? part['exportKind']);
    const whole = node['importKind'] === 'type' || node['exportKind'] === 'type' || node.type === 'TSImportType';
    found.push({
      from: source['value'],
      typeOnly: whole || (kinds.length > 0 && kinds.every((kind) => kind === 'type')),
    });
  });
  return found;
}

/** Names used as free identifiers: not as a property, not as a key. */
function unsteady(tree: Node, kernel: boolean): string[] {
  const found: string[] = [];
  walk(tree, (node, parent, key) => {
    if (kernel && (node.type === 'BinaryExpression' || node.type === 'AssignmentExpression'))
      if (node['operator'] === '**' || node['operator'] === '**=') found.push(String(node['operator']));
    if (node.type !== 'Identifier') return;
    const isProperty = parent?.type === 'MemberExpression' && key === 'property' && parent['computed'] !== true;
    const isKey = key === 'key' && parent?.['computed'] !== true && parent?.['shorthand'] !== true;
    if (isProperty || isKey) return;
    const name = String(node['name']);
    if (name === 'Math') {
      const property =
        parent?.type === 'MemberExpression' && parent['computed'] !== true ? parent['property'] : undefined;
      const member = isNode(property) ? String(property['name']) : '';
      if (member === '') found.push('Math other than Math.name');
      else if (kernel ? UNSTEADY_MATH.includes(member) : member === 'random') found.push(`Math.${member}`);
    } else if (kernel && NOT_IN_KERNEL.includes(name)) found.push(name);
  });
  return found;
}

function codeFromText(tree: Node): string[] {
  const found: string[] = [];
  walk(tree, (node) => {
    const callee = node['callee'];
    if (
      (node.type === 'CallExpression' || node.type === 'NewExpression') &&
      isNode(callee) &&
      callee.type === 'Identifier'
    )
      if (callee['name'] === 'eval' || callee['name'] === 'Function') found.push(String(callee['name']));
  });
  return found;
}

/** First cycle among value imports, as the files in order, or undefined. */
function cycleIn(graph: ReadonlyMap<string, readonly string[]>): string[] | undefined {
  const done = new Set<string>();
  const path: string[] = [];
  const visit = (file: string): string[] | undefined => {
    if (path.includes(file)) return [...path.slice(path.indexOf(file)), file];
    if (done.has(file)) return undefined;
    path.push(file);
    for (const next of graph.get(file) ?? []) {
      const found = visit(next);
      if (found) return found;
    }
    path.pop();
    done.add(file);
    return undefined;
  };
  for (const file of graph.keys()) {
    const found = visit(file);
    if (found) return found;
  }
  return undefined;
}

/** All violations in `files`: paths from the repository's root (`src/kernel/…`) to source text. */
export function violations(files: ReadonlyMap<string, string>): Violation[] {
  const found: Violation[] = [];
  const graph = new Map<string, string[]>();
  for (const [file, text] of files) {
    const layer = file.split('/')[1] as Layer;
    const add = (rule: Violation['rule'], what: string): number => found.push({ file, rule, what });
    if (!LAYERS.includes(layer)) {
      add('unknown-file', 'belongs to no layer');
      continue;
    }
    const isTest = file.endsWith('.test.ts');
    const tree = parseAst(text, { lang: file.endsWith('x') ? 'tsx' : 'ts' }) as unknown as Node;
    for (const { from, typeOnly } of importsOf(tree)) {
      if (from.startsWith('.')) {
        const target = normalize(`${dirname(file)}/${from}`);
        const inside = target.startsWith(`src/${layer}/`);
        if (!inside && !(isTest && /^(test|verification|examples)\//.test(target))) add('outside', from);
        if (inside && !isTest && !typeOnly) graph.set(file, [...(graph.get(file) ?? []), target]);
      } else if (from.startsWith('#')) {
        const other = LAYERS.indexOf(from.slice(1) as Layer);
        if (other < 0) add('index-only', from);
        else if (other >= LAYERS.indexOf(layer)) add('direction', from);
      } else {
        const name = from.startsWith('node:')
          ? 'node:'
          : from
              .split('/')
              .slice(0, from.startsWith('@') ? 2 : 1)
              .join('/');
        if (![...PACKAGES[layer], ...(isTest ? IN_TESTS : [])].includes(name)) add('package', from);
      }
    }
    if (!isTest) for (const what of unsteady(tree, layer === 'kernel')) add('steady', what);
    for (const what of codeFromText(tree)) add('code-from-text', what);
  }
  const cycle = cycleIn(graph);
  if (cycle) found.push({ file: cycle[0]!, rule: 'cycle', what: cycle.join(' -> ') });
  return found;
}
