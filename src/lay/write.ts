/**
 * A lay as the text of its file: JSON of one fixed layout, one line for each piece, stretch, placement and copy, so
 * that a person can edit it and a comparison of two files reads well. Key order fixed, LF, ends in a newline.
 */
import { inFileOrder } from './canonical.js';
import type { Lay } from './types.js';

/** The text of `lay` as it stands; it does not renew `selfHash`. */
export function writeLay(lay: Lay): string {
  const { format, unit, title, cutListSha256, selfHash, material, status, seed, effort, ...rest } = inFileOrder(lay);
  const head = { format, unit, title, cutListSha256, selfHash, material, status, seed, effort };
  const parts = [
    inline(head).slice(1, -1),
    `"cloth": ${inline(rest.cloth)}`,
    `"pieces": ${linePerItem(rest.pieces)}`,
    `"stretches": ${linePerItem(rest.stretches)}`,
    `"placements": ${linePerItem(rest.placements)}`,
    `"copies": ${linePerItem(rest.copies)}`,
    `"totals": ${inline(rest.totals)}`,
  ];
  return `{${parts.join(',\n ')}}\n`;
}

function linePerItem(items: readonly unknown[]): string {
  return items.length === 0 ? '[]' : `[\n  ${items.map(inline).join(',\n  ')}]`;
}

/** One line, a space after comma and colon; lists of points close together. */
function inline(value: unknown): string {
  if (Array.isArray(value)) {
    if (Array.isArray(value[0])) return JSON.stringify(value);
    return `[${value.map(inline).join(', ')}]`;
  }
  if (typeof value === 'object' && value !== null) {
    const entries = Object.entries(value).map(([key, item]) => `${JSON.stringify(key)}: ${inline(item)}`);
    return `{${entries.join(', ')}}`;
  }
  return JSON.stringify(value);
}
