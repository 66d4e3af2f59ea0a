/**
 * DXF text -> its groups: a number that says what follows, and on the next line a value. Comments (999) are left out.
 * Nothing here knows what a group means; every group keeps the line it stands on.
 */

import { drawingLimits } from './limits.js';

export interface DxfGroup {
  readonly code: number;
  /** Without the blanks around it, characters written as \U+XXXX read. */
  readonly value: string;
  /** Line of the value, from 1. */
  readonly line: number;
}

/** What keeps a file from being read. */
export interface DxfProblem {
  readonly problem: string;
  readonly line: number;
}

const charactersMax = drawingLimits.characters;
const comment = 999;
const codeMost = 1_071;

/** All groups of a file, or the first thing that is wrong with it. */
export function readDxfGroups(text: string): readonly DxfGroup[] | DxfProblem {
  if (text.length > charactersMax) {
    return { problem: `it has ${text.length} characters, at most ${charactersMax} are read`, line: 1 };
  }
  if (text.includes('\0')) return { problem: 'it is binary; only DXF written as text is read', line: 1 };
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
  const groups: DxfGroup[] = [];
  let at = 0;
  while (at < lines.length) {
    const found = lines[at]!.trim();
    if (found === '' && lines.slice(at).every((line) => line.trim() === '')) break;
    const code = /^-?\d{1,4}$/.test(found) ? Number(found) : Number.NaN;
    if (!(code >= -5 && code <= codeMost)) {
      return { problem: `found "${shown(found)}" where the number of a group should be`, line: at + 1 };
    }
    if (at + 1 >= lines.length) return { problem: `it ends after the number ${code}, without a value`, line: at + 1 };
    if (code !== comment) groups.push({ code, value: decoded(lines[at + 1]!.trim()), line: at + 2 });
    at += 2;
  }
  return groups.length === 0 ? { problem: 'it holds nothing', line: 1 } : groups;
}

/** A finite number, or null. */
export function numberOf({ value }: DxfGroup): number | null {
  if (!/^[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?$/.test(value)) return null;
  const number = Number(value);
  return Number.isFinite(number) ? number : null;
}

function decoded(value: string): string {
  return value.replace(/\\U\+([0-9A-Fa-f]{4})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
}

function shown(text: string): string {
  const printable = text.replace(/[^\x20-\x7E]/g, '?');
  return printable.length > 30 ? `${printable.slice(0, 30)}...` : printable;
}
