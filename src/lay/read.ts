/**
 * The text of a lay file -> a lay, or every fault of its structure with file:line:column: broken JSON, keys that are
 * missing, unknown or doubled, values of the wrong kind or size. It does not say whether the lay is right.
 */
import type { z } from 'zod';
import { makeFault, sortFaults } from '../diagnostics/faults.js';
import type { Fault, Place, Result } from '../diagnostics/types.js';
import { type JsonNode, lineAndColumn, nodeAt, parseJson } from './json-text.js';
import { layLimits } from './limits.js';
import { laySchema } from './schema.js';
import type { Lay } from './types.js';

type Issue = z.core.$ZodIssue;

const restoreFix = 'undo the change, or plan again to get a fresh lay file';

/**
 * Reads a lay file.
 * @param text its whole text
 * @param file its name, for the faults
 */
export function readLay(text: string, file: string): Result<Lay> {
  if (text.length > layLimits.fileCharacters) {
    const what = `found ${text.length} characters, a lay file has at most ${layLimits.fileCharacters}`;
    return {
      ok: false,
      faults: [makeFault('lay-too-large', { file, line: 1, column: 1 }, null, what, 'check that it is the right file')],
    };
  }
  const placeAt = (offset: number): Place => ({ file, ...lineAndColumn(text, offset) });
  const { root, problems } = parseJson(text.startsWith('\ufeff') ? ` ${text.slice(1)}` : text);
  const faults = problems.map(({ start, kind, what }) =>
    kind === 'broken'
      ? makeFault('lay-not-json', placeAt(start), null, what, restoreFix)
      : makeFault('lay-duplicate-key', placeAt(start), null, what, 'delete one of the two'),
  );
  if (root === null) return { ok: false, faults };
  const parsed = laySchema.safeParse(root.value);
  if (parsed.success && faults.length === 0) return { ok: true, value: parsed.data };
  const issues = parsed.error?.issues ?? [];
  return { ok: false, faults: sortFaults([...faults, ...issues.flatMap((issue) => faultsOf(issue, root, placeAt))]) };
}

/** One fault for an issue, or one for each unknown key. */
function faultsOf(issue: Issue, root: JsonNode, placeAt: (offset: number) => Place): Fault[] {
  const { node, start } = nodeAt(root, issue.path);
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => {
      const what = `"${key}" is not a key of ${wordPath(issue.path)}`;
      return makeFault(
        'lay-unknown-key',
        placeAt(node.keys?.get(key)?.start ?? start),
        null,
        what,
        'delete it, or correct its name',
      );
    });
  }
  const last = issue.path.at(-1);
  const missing = issue.path.length > 0 && !nodeExists(root, issue.path);
  if (missing && typeof last === 'string') {
    const what = `${wordPath(issue.path.slice(0, -1))} has no "${last}"`;
    return [makeFault('lay-missing-key', placeAt(start), null, what, `write "${last}" here, or plan again`)];
  }
  const what = `${wordPath(issue.path)}: expected ${wordExpected(issue)}, found ${wordFound(node.value)}`;
  return [makeFault('lay-wrong-value', placeAt(node.start), null, what, restoreFix)];
}

function nodeExists(root: JsonNode, path: readonly PropertyKey[]): boolean {
  const parent = nodeAt(root, path.slice(0, -1)).node;
  const last = path.at(-1)!;
  return typeof last === 'number' ? parent.items?.[last] !== undefined : parent.keys?.has(String(last)) === true;
}

/** `copies[3].at`, or "the file". */
function wordPath(path: readonly PropertyKey[]): string {
  const words = path.map((step) => (typeof step === 'number' ? `[${step}]` : `.${String(step)}`)).join('');
  return words === '' ? 'the file' : words.replace(/^\./, '');
}

function wordExpected(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return wordType(issue.expected);
    case 'invalid_value':
      return issue.values.map((value) => JSON.stringify(value)).join(' or ');
    case 'too_big':
      return `at most ${issue.maximum}${wordCounted(issue.origin)}`;
    case 'too_small':
      return `at least ${issue.minimum}${wordCounted(issue.origin)}`;
    case 'invalid_union':
      return 'a text, or a list of cut lists with "name", "sha256" and "garments"';
    case 'not_multiple_of':
      return `a multiple of ${issue.divisor}`;
    default:
      return 'another value';
  }
}

function wordType(expected: string): string {
  const words: Readonly<Record<string, string>> = {
    int: 'a whole number',
    number: 'a number',
    string: 'a text',
    boolean: 'true or false',
    array: 'a list',
    tuple: 'a list',
    object: 'an object',
    null: 'null',
  };
  return words[expected] ?? expected;
}

function wordCounted(origin: string): string {
  if (origin === 'string') return ' characters';
  return origin === 'array' ? ' in the list' : '';
}

function wordFound(value: unknown): string {
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object' && value !== null) return 'an object';
  const written = JSON.stringify(value);
  return written.length > 60 ? `${written.slice(0, 59)}…` : written;
}
