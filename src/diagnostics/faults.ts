/** Making, ordering and wording faults. The four parts: place, subject, what is wrong, what to do. */
import type { Fault, Place, Severity } from './types.js';

/** Makes an error; `severity` for warnings and notices. */
export function makeFault(
  code: string,
  place: Place | null,
  subject: string | null,
  what: string,
  fix: string,
  severity: Severity = 'error',
): Fault {
  return { code, severity, place, subject, what, fix };
}

/** True when any of them keeps the work from being done. */
export function hasErrors(faults: readonly Fault[]): boolean {
  return faults.some((fault) => fault.severity === 'error');
}

/** By file, line, column, then code and text, so that the order never depends on how they were found. */
export function sortFaults(faults: readonly Fault[]): Fault[] {
  return [...faults].sort(compareFaults);
}

function compareFaults(a: Fault, b: Fault): number {
  return (
    compareText(a.place?.file ?? '', b.place?.file ?? '') ||
    (a.place?.line ?? 0) - (b.place?.line ?? 0) ||
    (a.place?.column ?? 0) - (b.place?.column ?? 0) ||
    compareText(a.code, b.code) ||
    compareText(a.what, b.what)
  );
}

/** Order of code units: the same in every language. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** `file:line:column: error: piece "Bib": what [code]` and, below, what to do. */
export function formatFault(fault: Fault): string {
  const at = fault.place === null ? '' : `${oneLine(fault.place.file)}:${fault.place.line}:${fault.place.column}: `;
  const subject = fault.subject === null ? '' : `${oneLine(fault.subject)}: `;
  return `${at}${fault.severity}: ${subject}${fault.what} [${fault.code}]\n  fix: ${fault.fix}`;
}

/** A file name may hold line ends; shown, they would make two messages of one. */
function oneLine(name: string): string {
  return name.replace(/\p{Cc}/gu, '?');
}

/** Faults in order, `limit` at most, with a line that counts the rest. */
export function formatFaults(faults: readonly Fault[], limit = 20): string {
  const sorted = sortFaults(faults);
  const lines = sorted.slice(0, limit).map(formatFault);
  if (sorted.length > limit) lines.push(`... and ${sorted.length - limit} more`);
  return lines.join('\n');
}
