/**
 * Measurements as rows of a Markdown table, one for each subject. Instances and garments have a table each; a file may
 * hold both between its paragraphs, and new rows go to the end of theirs.
 */
import type { Row, Run } from './types.js';

type Column = readonly [title: string, cell: (row: Row, date: string) => string];

const utilisation = (run: Run): number => run.utilisationPercent;
const length = (run: Run): number => run.length;

const opening: readonly Column[] = [
  ['date', (_, date) => date],
  ['subject', (row) => row.subject],
  ['copies', (row) => String(row.copies)],
  ['limit', limitWords],
  ['workers', (row) => String(row.workers)],
  ['seeds', (row) => list(row.runs, ({ seed }) => String(seed))],
];

const closing: readonly Column[] = [
  ['bound', (row) => fixed(row.bound)],
  ['gap %', (row) => fixed((100 * (shortest(row) - row.bound)) / shortest(row))],
  ['status', (row) => counted(row.runs.map(({ status }) => status))],
  ['starts reached', (row) => list(row.runs, ({ reachedBy }) => `${reachedBy.starts} of ${reachedBy.of}`)],
  ['effort', (row) => list(row.runs, ({ effort }) => String(effort))],
  ['first lay s', (row) => list(row.runs, ({ first }) => first.seconds.toFixed(2))],
  ['wall s', (row) => list(row.runs, ({ seconds }) => seconds.toFixed(1))],
  ['verified', (row) => (row.runs.every(({ verified }) => verified) ? 'yes' : 'NO')],
];

const columns: Readonly<Record<Row['sort'], readonly Column[]>> = {
  instance: [
    ...opening,
    ['utilisation %', (row) => list(row.runs, (run) => fixed(utilisation(run)))],
    ['mean', (row) => fixed(mean(row.runs.map(utilisation)))],
    ['best', (row) => fixed(Math.max(...row.runs.map(utilisation)))],
    ['shortest', (row) => fixed(shortest(row))],
    ...closing,
  ],
  garment: [
    ...opening,
    ['length cm', (row) => list(row.runs, (run) => fixed(length(run)))],
    ['mean', (row) => fixed(mean(row.runs.map(length)))],
    ['best', (row) => fixed(shortest(row))],
    ['utilisation %', (row) => fixed(Math.max(...row.runs.map(utilisation)))],
    ...closing,
  ],
};

/** The two lines that open the table of a sort. */
export function tableHead(sort: Row['sort']): string {
  const titles = columns[sort].map(([title]) => title);
  return `${line(titles)}\n${line(titles.map(() => '---')).replaceAll(' ', '')}\n`;
}

/**
 * One line with its end.
 * @param date as it shall stand there, for example 2026-11-25
 */
export function tableLine(row: Row, date: string): string {
  return `${line(columns[row.sort].map(([, cell]) => cell(row, date)))}\n`;
}

/** The page with the rows at the end of their tables; a table that the page does not hold yet opens at its end. */
export function appendRows(page: string, rows: readonly Row[], date: string): string {
  return rows.reduce((text, row) => appendRow(text, row, date), page);
}

function appendRow(page: string, row: Row, date: string): string {
  const head = tableHead(row.sort);
  const start = `\n${page}`.indexOf(`\n${head}`);
  if (start < 0) {
    const before = page === '' ? '' : `${page.trimEnd()}\n\n`;
    return before + head + tableLine(row, date);
  }
  let end = start + head.length;
  while (page[end] === '|') {
    const next = page.indexOf('\n', end);
    if (next < 0) return `${page}\n${tableLine(row, date)}`;
    end = next + 1;
  }
  return page.slice(0, end) + tableLine(row, date) + page.slice(end);
}

function line(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |`;
}

function list(runs: readonly Run[], word: (run: Run) => string): string {
  return runs.map(word).join(', ');
}

function limitWords({ limits: { effort, seconds } }: Row): string {
  const words = [effort === null ? [] : [`effort ${effort}`], seconds === null ? [] : [`${seconds} s`]].flat();
  return words.join(', ');
}

/** `a` when all are alike, else `a 2, b 1`. */
function counted(words: readonly string[]): string {
  const kinds = [...new Set(words)];
  if (kinds.length === 1) return kinds[0]!;
  return kinds.map((kind) => `${kind} ${words.filter((word) => word === kind).length}`).join(', ');
}

function shortest(row: Row): number {
  return Math.min(...row.runs.map(length));
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function fixed(value: number): string {
  return value.toFixed(2);
}
