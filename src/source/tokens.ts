/**
 * YAML text -> the library's tokens, within limits on their number and depth. The limits are looked at token by
 * token: behind this door the library recurses once for each level and takes a few microseconds for each token, so a
 * small hostile text could otherwise end the process or keep it for minutes.
 */
import { type CST, Lexer, type LineCounter, Parser } from 'yaml';

/** Deeper nesting than any cut list has. */
export const depthMax = 24;
/** Some twenty-eight thousand corners; two or three seconds of work. */
export const tokensMax = 400_000;
/** Text that breaks the grammar this often is not read on to its end. */
const brokenMax = 100;

export type Tokens =
  | { readonly tokens: readonly CST.Token[] }
  | { readonly limit: 'deep' | 'many'; readonly offset: number };

const nesting: ReadonlySet<string> = new Set(['block-map', 'block-seq', 'flow-collection']);

/** Lists and maps that are open; the document and a value being read are on the stack too. */
function depthOf(stack: readonly CST.Token[]): number {
  return stack.filter(({ type }) => nesting.has(type)).length;
}

/** @param lines gets the start of every line */
export function readTokens(text: string, lines: LineCounter): Tokens {
  lines.addNewLine(0);
  const parser = new Parser(lines.addNewLine);
  const tokens: CST.Token[] = [];
  let count = 0;
  let broken = 0;
  for (const lexeme of new Lexer().lex(text)) {
    count += 1;
    if (count > tokensMax) return { limit: 'many', offset: parser.offset };
    for (const token of parser.next(lexeme)) {
      tokens.push(token);
      if (token.type === 'error') broken += 1;
    }
    if (parser.stack.length > depthMax && depthOf(parser.stack) > depthMax) {
      return { limit: 'deep', offset: parser.offset };
    }
    if (broken > brokenMax) break;
  }
  tokens.push(...parser.end());
  return { tokens };
}
