/**
 * Refuses YAML that is nested too deeply or has too many words, before the recursive parser sees it.
 *
 * Deep nesting does not only overflow the parser's stack: deep in the stack a regular expression that fails to compile
 * ends the whole process, which no `catch` can stop (seen with 1000 opening brackets on Node 20). So the depth is bounded
 * from the lexer's tokens, which need no recursion: brackets, indicators that open a collection on the same line, and
 * lines that stand further in than the ones above.
 */
import { Lexer } from 'yaml';

/** The deepest legal path (`bodies.rear.tubes.0.via.0.by.0`) has 8 steps. */
export const DEEPEST_YAML = 32;
/** A dense file of about 600 kB; parsing it takes some two seconds. */
export const MOST_TOKENS = 400_000;

/** The offset at which a text exceeds a limit, and which. */
export function exceedsLimits(source: string): { offset: number; what: 'depth' | 'size' } | undefined {
  let offset = 0;
  let flow = 0;
  let count = 0;
  let column = 0;
  let indicators = 0;
  let lineStart = true;
  const indents: number[] = [];
  for (const token of new Lexer().lex(source)) {
    count += 1;
    if (count > MOST_TOKENS) return { offset, what: 'size' };
    // Markers of the lexer itself: not in the text.
    if (token === '\x02' || token === '\x1f' || token === '\x18') {
      if (token !== '\x1f' || !lineStart) continue;
    }
    const inText = token !== '\x1f';
    const isNewline = token === '\n' || token === '\r\n';
    const isSpace = /^[ \t]*$/.test(token);
    if (!isNewline && !isSpace && lineStart && flow === 0 && !token.startsWith('#')) {
      while (indents.length > 0 && indents.at(-1)! >= column) indents.pop();
      indents.push(column);
      lineStart = false;
    }
    if (flow === 0 && (token === '-' || token === '?' || token === ':')) indicators += 1;
    if (token === '[' || token === '{') flow += 1;
    if (token === ']' || token === '}') flow = Math.max(0, flow - 1);
    if (flow + indents.length + indicators > DEEPEST_YAML) return { offset, what: 'depth' };
    if (!inText) continue;
    offset += token.length;
    column += token.length;
    const newline = token.lastIndexOf('\n');
    if (newline >= 0) {
      column = token.length - newline - 1;
      lineStart = true;
      indicators = 0;
    }
  }
  return undefined;
}
