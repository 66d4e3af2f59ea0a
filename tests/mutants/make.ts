/**
 * All mutants of a source text: small wrong programs, each the right one with one place changed. A suite of tests that
 * lets one live does not look at that place. Texts of messages, types and imports are left as they are.
 *
 * Method: R. A. DeMillo, R. J. Lipton, F. G. Sayward, "Hints on Test Data Selection", Computer 11 (4), 1978. The kinds
 * of change are those of relational, logical, arithmetic and constant replacement and of statement deletion: K. N. King,
 * A. J. Offutt, "A Fortran Language System for Mutation-based Software Testing", Software 21 (7), 1991. (From memory.)
 */
import { parseAst } from 'vitest/node';

/** One place of a file changed. */
export interface Mutant {
  /** From the root of the project on. */
  readonly file: string;
  readonly line: number;
  readonly start: number;
  readonly end: number;
  readonly was: string;
  readonly becomes: string;
  readonly kind: string;
}

interface Node {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly [key: string]: unknown;
}

type Change = Pick<Mutant, 'start' | 'end' | 'becomes' | 'kind'>;

/** Where a node stands: what holds it, and the function it belongs to. */
interface Around {
  readonly text: string;
  readonly parent: Node | null;
  readonly within: Node | null;
}

const operatorSwaps: Readonly<Record<string, readonly string[]>> = {
  '<': ['<=', '>='],
  '<=': ['<', '>'],
  '>': ['>=', '<='],
  '>=': ['>', '<'],
  '===': ['!=='],
  '!==': ['==='],
  '+': ['-'],
  '-': ['+'],
  '*': ['/'],
  '/': ['*'],
  '%': ['*'],
  '**': ['*'],
  '&&': ['||'],
  '||': ['&&'],
  '??': ['&&'],
  '+=': ['-='],
  '-=': ['+='],
  '*=': ['/='],
  '/=': ['*='],
};

const methodSwaps: Readonly<Record<string, string>> = {
  some: 'every',
  every: 'some',
  min: 'max',
  max: 'min',
  ceil: 'floor',
  floor: 'ceil',
  round: 'floor',
  find: 'findLast',
  startsWith: 'endsWith',
  endsWith: 'startsWith',
};

/** Calls that hand back something like what they were given: without them the thing itself is taken. */
const passable = new Set(['filter', 'sort', 'reverse', 'slice', 'trim', 'flat']);

const deletable = new Set([
  'ExpressionStatement',
  'ContinueStatement',
  'BreakStatement',
  'ThrowStatement',
  'ForStatement',
  'ForOfStatement',
  'WhileStatement',
]);

const typeWrappers = new Set(['TSAsExpression', 'TSNonNullExpression', 'TSSatisfiesExpression']);

/** Every mutant of a text, in the order of its places. */
export function makeMutants(file: string, text: string): Mutant[] {
  const changes: Change[] = [];
  walk(parseAst(text, { lang: 'ts' }) as unknown as Node, { text, parent: null, within: null }, changes);
  return changes
    .map(
      (change): Mutant => ({
        file,
        line: text.slice(0, change.start).split('\n').length,
        ...change,
        was: text.slice(change.start, change.end),
      }),
    )
    .sort((one, other) => one.start - other.start || one.end - other.end);
}

function walk(node: Node, around: Around, changes: Change[]): void {
  if (typeWrappers.has(node.type)) {
    walk(node.expression as Node, { ...around, parent: node }, changes);
    return;
  }
  if (node.type.startsWith('TS') || node.type === 'ImportDeclaration') return;
  changes.push(...changesAt(node, around));
  const isFunction = /Function(Expression|Declaration)$/.test(node.type);
  const inner = { ...around, parent: node, within: isFunction ? node : around.within };
  for (const [key, value] of Object.entries(node)) {
    const isKey = node.type === 'Property' && key === 'key' && node.computed !== true;
    if (isKey || key === 'typeAnnotation' || key === 'returnType') continue;
    for (const child of Array.isArray(value) ? value : [value]) if (isNode(child)) walk(child, inner, changes);
  }
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && 'type' in value && typeof value.type === 'string';
}

function changesAt(node: Node, around: Around): Change[] {
  const changes = [...changesOf(node, around)];
  if (deletable.has(node.type)) changes.push(replace(node, '{}', 'statement removed'));
  if (isReturned(node, around)) changes.push(...emptied(node, around));
  return changes;
}

function changesOf(node: Node, { text, parent }: Around): Change[] {
  switch (node.type) {
    case 'BinaryExpression':
    case 'LogicalExpression':
    case 'AssignmentExpression':
      return swapOperator(node, text);
    case 'UnaryExpression':
      if (node.operator !== '!' && node.operator !== '-') return [];
      return [replace({ start: node.start, end: node.start + 1 }, '', `${node.operator} removed`)];
    case 'UpdateExpression': {
      const becomes = text.slice(node.start, node.end).replace(/\+\+|--/, (sign) => (sign === '++' ? '--' : '++'));
      return [replace(node, becomes, 'operator')];
    }
    case 'Literal':
      return changeLiteral(node);
    case 'IfStatement':
    case 'ConditionalExpression':
      return ['true', 'false'].map((value) => replace(node.test as Node, value, 'condition forced'));
    case 'WhileStatement':
    case 'ForStatement':
      return isNode(node.test) ? [replace(node.test, 'false', 'condition forced')] : [];
    case 'SpreadElement':
      if (parent?.type === 'ArrayExpression') return [replace(node, '...[]', 'entries removed')];
      return parent?.type === 'ObjectExpression' ? [replace(node, '...{}', 'entries removed')] : [];
    case 'CallExpression':
      return changeCall(node, text, parent);
    default:
      return [];
  }
}

function replace({ start, end }: Pick<Node, 'start' | 'end'>, becomes: string, kind: string): Change {
  return { start, end, becomes, kind };
}

function swapOperator(node: Node, text: string): Change[] {
  const [left, right] = [node.left as Node, node.right as Node];
  const between = text.slice(left.end, right.start);
  const operator = node.operator as string;
  return (operatorSwaps[operator] ?? []).map((other) =>
    replace({ start: left.end, end: right.start }, between.replace(operator, other), 'operator'),
  );
}

function changeLiteral(node: Node): Change[] {
  const { value } = node;
  if (typeof value === 'boolean') return [replace(node, `${!value}`, 'truth value')];
  if (typeof value === 'bigint') return [value + 1n, value - 1n].map((one) => replace(node, `${one}n`, 'number'));
  if (typeof value !== 'number') return [];
  return [...new Set([value + 1, value - 1, 0])]
    .filter((other) => other !== value)
    .map((other) => replace(node, other < 0 ? `(${other})` : `${other}`, 'number'));
}

function changeCall(node: Node, text: string, parent: Node | null): Change[] {
  const callee = node.callee as Node;
  if (callee.type !== 'MemberExpression' || callee.computed === true) return [];
  const [object, property] = [callee.object as Node, callee.property as Node];
  const name = property.name as string;
  const swapped = methodSwaps[name];
  if (swapped !== undefined) return [replace(property, swapped, 'method')];
  const isStatement = parent?.type === 'ExpressionStatement';
  if (passable.has(name) && !isStatement) return [replace(node, text.slice(object.start, object.end), 'call removed')];
  const [argument] = node.arguments as Node[];
  if (name !== 'abs' || argument === undefined) return [];
  return [replace(node, `(${text.slice(argument.start, argument.end)})`, 'call removed')];
}

function isReturned(node: Node, { parent }: Around): boolean {
  if (parent?.type === 'ReturnStatement') return true;
  return parent?.type === 'ArrowFunctionExpression' && parent.body === node && node.type !== 'BlockStatement';
}

/** What a function hands back instead, by the type that it declares, or by the look of the value. */
function emptied(node: Node, { text, within }: Around): Change[] {
  const kind = 'returned value emptied';
  if (node.type === 'ArrayExpression') return (node.elements as Node[]).length > 0 ? [replace(node, '[]', kind)] : [];
  if (node.type === 'Literal' || !isNode(within?.returnType)) return [];
  const declared = text.slice(within.returnType.start, within.returnType.end).replace(/^:\s*/, '');
  if (/\| null$/.test(declared)) return [replace(node, 'null', kind)];
  if (/\[\]$|^Outline$/.test(declared)) return [replace(node, '[]', kind)];
  if (declared === 'boolean') return ['true', 'false'].map((value) => replace(node, value, kind));
  if (declared === 'bigint') return [replace(node, '0n', kind)];
  return declared === 'number' || declared === 'Um' ? [replace(node, '0', kind)] : [];
}
