/** Arguments, second step: checked and filled. Every wrong value is told at once, all in one wording. */
import { type LayName, layNames } from '../cloth/types.js';
import { clothLengthMax, clothWidthMax, clothWidthMin } from '../cutlist/limits.js';
import type { CompareOptions, Dated, PlanOptions, PrintFormat } from '../index.js';
import { layLimits } from '../lay/limits.js';
import type { ClothSide } from '../report/seen-cloth.js';
import { formatBuy, formatLength, parseLength } from '../units/length.js';
import { type Sheet, type SheetName, sheetNames, sheetSizesMm } from '../units/paper.js';
import { coordinateMaxUm, type LengthUnit, type Um } from '../units/types.js';
import type {
  TypedCompareOptions,
  TypedDrawOptions,
  TypedImportOptions,
  TypedPlanOptions,
  TypedPrintOptions,
} from './arguments.js';

/** What only the program needs to know. */
export interface RunSettings {
  readonly cutLists: readonly { readonly path: string; readonly garments: number }[];
  readonly workers: number;
  readonly out: string | null;
  readonly json: boolean;
  readonly quiet: boolean;
  readonly strict: boolean;
  /** Options whose lengths carry no unit, so that they are read in cm. */
  readonly bareLengths: readonly string[];
}

/** What `plan` is asked. */
export interface PlanSettings extends PlanOptions, RunSettings {
  /** A lay whose pinned placements stay. */
  readonly keep: string | null;
}

/** What `compare` is asked. */
export interface CompareSettings extends CompareOptions, RunSettings {}

/** What `draw` is asked. */
export interface DrawSettings extends Dated {
  readonly cutList: string;
  readonly out: string | null;
  readonly page: 'a4' | 'letter';
  readonly strict: boolean;
}

/** What `import` is asked. */
export interface ImportSettings {
  readonly drawing: string;
  readonly out: string | null;
  readonly units: LengthUnit;
}

/** What `print` is asked. */
export type PrintSettings = PiecesSettings | LayPagesSettings | MarkerSettings;

/** The marker of a lay at true size, on paper or to be thrown on the cloth. */
export interface MarkerSettings extends Omit<PiecesSettings, 'what'> {
  readonly what: 'marker' | 'projector';
  readonly units: LengthUnit;
  readonly side: ClothSide;
}

/** A cut list's pieces at true size. */
export interface PiecesSettings extends Dated {
  readonly what: 'pieces';
  readonly file: string;
  readonly out: string | null;
  readonly sheet: Sheet;
  readonly sheetName: string;
  readonly format: PrintFormat;
}

/** Pages of a lay; not every format goes with both. */
export interface LayPagesSettings extends Dated {
  readonly what: 'plan' | 'chalk';
  readonly file: string;
  readonly out: string | null;
  readonly page: SheetName;
  readonly format: 'pdf' | 'svg' | 'csv';
  readonly units: LengthUnit;
  readonly side: ClothSide;
}

export type Checked<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly string[] };

const effortDefault = 20;
export const effortMax = 1_000_000;
export const secondsMax = 10_000_000;
export const seedMax = 2 ** 31 - 1;
export const workersMax = 256;
export const garmentsMax = 1_000;
const garmentsRange = { above: 0, max: garmentsMax, whole: true } as const;
export const cutListsMax = layLimits.cutLists;

/** @param cores threads when --workers is not given */
export function checkPlan(cutLists: readonly string[], typed: TypedPlanOptions, cores: number): Checked<PlanSettings> {
  const problems: string[] = [];
  const reader = readerOf(problems);
  const settings: PlanSettings = {
    ...readCommon(cutLists, typed, cores, reader, problems),
    widthsUm: listed(reader.length('--width', typed.width, widthRange)),
    effort: readEffort(reader, typed.effort) ?? effortDefault,
    advise: typed.advise ?? false,
    tidies: true,
    keep: typed.keep ?? null,
    bareLengths: bareOf({ '--width': typed.width, '--length': typed.length }),
  };
  if (typed.keep === '') problems.push(wrongValue('--keep', '', 'the name of a lay file'));
  return problems.length === 0 ? { ok: true, value: settings } : { ok: false, problems };
}

/** Options of `compare`, checked and filled. */
export function checkCompare(
  cutLists: readonly string[],
  typed: TypedCompareOptions,
  cores: number,
): Checked<CompareSettings> {
  const problems: string[] = [];
  const reader = readerOf(problems);
  const settings: CompareSettings = {
    ...readCommon(cutLists, typed, cores, reader, problems),
    widthsUm: readWidths(typed.widths, typed.step, reader, problems),
    effort: readEffort(reader, typed.effort),
    bareLengths: bareOf({ '--widths': typed.widths, '--length': typed.length }),
  };
  return problems.length === 0 ? { ok: true, value: settings } : { ok: false, problems };
}

type Reader = ReturnType<typeof readerOf>;

function readEffort(reader: Reader, typed: string | undefined): number | null {
  return reader.number('--effort', typed, { above: 0, max: effortMax, whole: false });
}

/** What `plan` and `compare` have in common. */
function readCommon(
  cutLists: readonly string[],
  typed: Omit<TypedPlanOptions, 'width' | 'effort' | 'advise' | 'keep'>,
  cores: number,
  reader: Reader,
  problems: string[],
): Omit<PlanSettings, 'widthsUm' | 'effort' | 'advise' | 'tidies' | 'keep' | 'bareLengths'> {
  const garments = reader.number('--garments', typed.garments, garmentsRange) ?? 1;
  checkOut(typed.out, problems);
  return {
    cutLists: readCounted(cutLists, garments, problems),
    garments,
    material: typed.material ?? null,
    cloth: typed.cloth ?? null,
    lengthUm: reader.length('--length', typed.length, lengthRange),
    nap: reader.choice('--nap', typed.nap, ['one-way', 'each-garment', 'none']),
    method: checkMethod(typed.method, problems),
    seconds: reader.number('--seconds', typed.seconds, { above: 0, max: secondsMax, whole: false }),
    seed: reader.number('--seed', typed.seed, { above: -1, max: seedMax, whole: true }) ?? 1,
    workers: reader.number('--workers', typed.workers, { above: 0, max: workersMax, whole: true }) ?? cores,
    out: typed.out ?? null,
    page: readPage(reader, typed.page),
    json: typed.json ?? false,
    quiet: typed.quiet ?? false,
    strict: typed.strict ?? false,
  };
}

/** `apron.yaml=2`: two garments of that cut list. */
function readCounted(cutLists: readonly string[], times: number, problems: string[]): RunSettings['cutLists'] {
  const counted = cutLists.map((words) => {
    const { path, garments } = splitCount(words);
    return { path, garments: garments ?? 1 };
  });
  const all = times * counted.reduce((sum, { garments }) => sum + garments, 0);
  if (all > garmentsMax) problems.push(`${all} garments in one lay: at most ${garmentsMax} are planned`);
  if (counted.length > cutListsMax)
    problems.push(`${counted.length} cut lists in one lay: at most ${cutListsMax} are planned`);
  return counted;
}

/** Path and garments of `apron.yaml=2`; null: none, or not from 1 to `garmentsMax`, and then all of it is the path. */
export function splitCount(words: string): { readonly path: string; readonly garments: number | null } {
  const [, path = '', count = ''] = /^(.*)=(\d+)$/s.exec(words) ?? [];
  const garments = Number(count);
  return garments >= 1 && garments <= garmentsMax ? { path, garments } : { path: words, garments: null };
}

function bareOf(options: Readonly<Record<string, string | undefined>>): string[] {
  return Object.entries(options).flatMap(([name, text]) =>
    text !== undefined && /^[\d.,\s/]+$/.test(text) ? [`${name} ${text}`] : [],
  );
}

/** More widths than this say nothing more. */
export const widthsMost = 60;

/** `115,150`, or `90..160` in steps. */
function readWidths(
  text: string | undefined,
  stepTyped: string | undefined,
  reader: Reader,
  problems: string[],
): readonly Um[] | null {
  if (text === undefined) {
    if (stepTyped !== undefined) problems.push('--step: it goes with --widths FROM..TO');
    return null;
  }
  const ends = /^(.+?)\.\.(.+)$/.exec(text);
  if (ends === null) {
    if (stepTyped !== undefined) problems.push('--step: it goes with --widths FROM..TO');
    const dashed = /^([^-–,]+)[-–]([^-–,]+)$/.exec(text);
    if (dashed !== null) {
      const example = `${dashed[1]!.trim()}..${dashed[2]!.trim()}`;
      problems.push(wrongValue('--widths', text, `two dots between the narrowest and the widest: ${example}`));
      return null;
    }
    const parts = withLastUnit(text.split(',').map((part) => part.trim()));
    const widths = parts.map((part) => reader.length('--widths', part, widthRange));
    if (widths.length > widthsMost) problems.push(tooManyWidths(text));
    const known = widths.filter((width) => width !== null);
    return known.length === widths.length ? [...new Set(known)].sort((a, b) => a - b) : null;
  }
  const [from, to] = withLastUnit([ends[1]!.trim(), ends[2]!.trim()]).map((end) =>
    reader.length('--widths', end, widthRange),
  );
  const inInches = /in\s*$|"\s*$/.test(ends[2]!);
  const step = reader.length('--step', stepTyped ?? (inInches ? '2 in' : '5 cm'), stepRange);
  if (from == null || to == null || step === null) return null;
  if (from >= to) {
    problems.push(wrongValue('--widths', text, 'the narrower width first, for example 90..160'));
    return null;
  }
  const count = Math.floor((to - from) / step) + 1;
  if (count > widthsMost) {
    problems.push(tooManyWidths(text));
    return null;
  }
  return Array.from({ length: count }, (_, i) => from + i * step);
}

/** `36..60 in` is in inches from the first on: a bare number has the unit of the last one. */
function withLastUnit(parts: readonly string[]): string[] {
  const unit = /[\d.]\s*([a-z"']+)$/i.exec(parts.at(-1) ?? '')?.[1] ?? '';
  return parts.map((part) => (/^[\d.\s/]+$/.test(part) ? `${part} ${unit}`.trim() : part));
}

function tooManyWidths(text: string): string {
  return wrongValue('--widths', text, `${widthsMost} widths at most: a larger --step, or fewer of them`);
}

function listed<T>(value: T | null): readonly T[] | null {
  return value === null ? null : [value];
}

/** Options of `draw`, checked and filled. */
export function checkDraw(cutList: string, typed: TypedDrawOptions): Checked<DrawSettings> {
  const problems: string[] = [];
  const page = readPage(readerOf(problems), typed.page);
  checkOut(typed.out, problems);
  if (problems.length > 0) return { ok: false, problems };
  return { ok: true, value: { cutList, out: typed.out ?? null, page, strict: typed.strict ?? false } };
}

/** Options of `import`, checked and filled. */
export function checkImport(drawing: string, typed: TypedImportOptions): Checked<ImportSettings> {
  const problems: string[] = [];
  const units = readerOf(problems).choice('--units', typed.units, ['cm', 'mm', 'in']) ?? 'cm';
  checkOut(typed.out, problems);
  if (problems.length > 0) return { ok: false, problems };
  return { ok: true, value: { drawing, out: typed.out ?? null, units } };
}

/** Options of `print`, checked and filled. */
export function checkPrint(file: string, typed: TypedPrintOptions): Checked<PrintSettings> {
  const problems: string[] = [];
  const reader = readerOf(problems);
  if (typed.what === undefined) problems.push('--what is missing: say --what plan, chalk, marker, projector or pieces');
  const what = reader.choice('--what', typed.what, ['plan', 'chalk', 'marker', 'projector', 'pieces']);
  if (what === 'plan' || what === 'chalk') return checkLayPages(file, typed, what, problems);
  const sheetName = typed.sheet ?? 'a4';
  const sheet = readSheet(sheetName, problems);
  if (typed.format === 'csv') problems.push('--format csv: it goes with --what chalk');
  if (what === 'projector' && typed.format === 'dxf') problems.push('--format dxf: a projector shows pdf or svg');
  const format = typed.format === 'csv' ? null : reader.choice('--format', typed.format, ['pdf', 'svg', 'dxf']);
  checkOut(typed.out, problems);
  const common = { file, out: typed.out ?? null, sheetName, format: format ?? 'pdf' };
  if (what === 'pieces' || what === null) {
    if (typed.wrongSide) problems.push('--wrong-side: it goes with what is printed of a lay');
    if (typed.units !== undefined) problems.push('--units: it goes with what is printed of a lay');
    if (problems.length > 0 || sheet === null) return { ok: false, problems };
    return { ok: true, value: { what: 'pieces', ...common, sheet } };
  }
  const { units, side } = readLayLook(reader, typed);
  if (problems.length > 0 || sheet === null) return { ok: false, problems };
  return { ok: true, value: { what, ...common, sheet, units, side } };
}

/** In which units a lay is printed, and seen from which side. */
function readLayLook(
  reader: Reader,
  typed: TypedPrintOptions,
): { readonly units: LengthUnit; readonly side: ClothSide } {
  const units = reader.choice('--units', typed.units, ['cm', 'mm', 'in']) ?? 'cm';
  return { units, side: typed.wrongSide ? 'wrong' : 'right' };
}

function checkLayPages(
  file: string,
  typed: TypedPrintOptions,
  what: LayPagesSettings['what'],
  problems: string[],
): Checked<PrintSettings> {
  const reader = readerOf(problems);
  const page = reader.choice('--sheet', typed.sheet?.toLowerCase(), sheetNames) ?? 'a4';
  const { units, side } = readLayLook(reader, typed);
  const isOther = typed.format === 'dxf' || (what === 'plan' && typed.format === 'csv');
  if (isOther)
    problems.push(
      `--format ${typed.format}: it goes with --what ${typed.format === 'csv' ? 'chalk' : 'marker or pieces'}`,
    );
  const format = isOther ? null : reader.choice('--format', typed.format, ['pdf', 'svg', 'csv']);
  checkOut(typed.out, problems);
  if (problems.length > 0) return { ok: false, problems };
  return { ok: true, value: { what, file, out: typed.out ?? null, page, format: format ?? 'pdf', units, side } };
}

/** Narrower paper has no room for the test square and its words. */
export const sheetLeastUm: Um = 140_000;
/** Wider than any roll of paper. */
export const rollMostUm: Um = 5_000_000;

/** `a4`, or `roll:90`, `roll:36inx3m`. */
function readSheet(text: string, problems: string[]): Sheet | null {
  const name = sheetNames.find((each) => each === text.toLowerCase());
  if (name !== undefined) {
    const [widthMm, heightMm] = sheetSizesMm[name];
    return { widthMm, heightMm };
  }
  const match = /^roll:([^x]+)(?:x(.+))?$/i.exec(text);
  const lengths =
    match === null ? [] : [match[1], match[2]].map((part) => (part === undefined ? null : lengthOf(part)));
  const [width, height] = lengths;
  const isGood =
    width != null && width >= sheetLeastUm && width <= rollMostUm && (height === null || (height ?? 0) >= sheetLeastUm);
  if (isGood) return { widthMm: width / 1000, heightMm: height == null ? null : height / 1000 };
  const expected = `${sheetNames.join(', ')}, or roll:WIDTH or roll:WIDTHxLENGTH of 14 cm at least, 5 m wide at most (roll:90, roll:36 inx3 m)`;
  problems.push(wrongValue('--sheet', text, expected));
  return null;
}

/** 0 = no length. */
function lengthOf(text: string): Um {
  const read = parseLength(text, 'cm');
  return 'um' in read && read.um <= coordinateMaxUm ? read.um : 0;
}

/** The last second of the year 9999: a PDF has no room for more. */
const sourceDateMax = 253_402_300_799;

/**
 * Settings together with the date that PDFs get.
 * @param sourceDate SOURCE_DATE_EPOCH, by the specification of that name (reproducible-builds.org, version 1.1): whole
 * seconds since 1970-01-01 00:00 UTC in digits, else an error; null = not set
 */
export function withDate<T extends Dated>(checked: Checked<T>, sourceDate: string | null): Checked<T> {
  if (sourceDate === null) return checked;
  const madeAt = /^(0|[1-9]\d{0,14})$/.test(sourceDate) ? Number(sourceDate) : Number.NaN;
  if (madeAt <= sourceDateMax) return checked.ok ? { ok: true, value: { ...checked.value, madeAt } } : checked;
  const expected = 'whole seconds since the beginning of 1970, for example 1764158400, or the variable not set';
  const problem = wrongValue('SOURCE_DATE_EPOCH', sourceDate, expected);
  return { ok: false, problems: [...(checked.ok ? [] : checked.problems), problem] };
}

function readPage(reader: Reader, typed: string | undefined): 'a4' | 'letter' {
  return reader.choice('--page', typed, ['a4', 'letter']) ?? 'a4';
}

function checkOut(out: string | undefined, problems: string[]): void {
  if (out === '') problems.push(wrongValue('--out', '', 'the name of a folder'));
}

/** The one wording for a wrong value. */
export function wrongValue(option: string, found: string, expected: string): string {
  return `${option}: found "${found}", expected ${expected}`;
}

interface Range {
  readonly above: number;
  readonly max: number;
  readonly whole: boolean;
}

interface LengthRange {
  readonly least: Um;
  readonly most: Um;
}

/** As in a cut list. */
const widthRange: LengthRange = { least: clothWidthMin, most: clothWidthMax };
const lengthRange: LengthRange = { least: 1, most: clothLengthMax };
const stepRange: LengthRange = { least: 1, most: clothWidthMax };

/** Reads values, adding what is wrong to `problems`; a missing or wrong value is null. */
function readerOf(problems: string[]) {
  return {
    length(option: string, text: string | undefined, { least, most }: LengthRange): Um | null {
      if (text === undefined) return null;
      const read = parseLength(text, 'cm');
      const um = 'um' in read ? read.um : 0;
      if (um >= least && um <= most) return um;
      const from = least === 1 ? 'above 0' : `from ${formatLength(least, 'cm')}`;
      const expected = `a length ${from} and up to ${formatBuy(most, 'cm')}, for example 150, 1.5 m or 59 in`;
      problems.push(wrongValue(option, text, expected));
      return null;
    },
    number(option: string, text: string | undefined, { above, max, whole }: Range): number | null {
      if (text === undefined) return null;
      const value = /^\d{1,15}(\.\d{1,15})?$/.test(text.trim()) ? Number(text) : Number.NaN;
      if (value > above && value <= max && (!whole || Number.isInteger(value))) return value;
      const least = whole ? `a whole number from ${above + 1}` : `a number above ${above}`;
      problems.push(wrongValue(option, text, `${least} up to ${max}`));
      return null;
    },
    choice<T extends string>(option: string, text: string | undefined, allowed: readonly T[]): T | null {
      if (text === undefined) return null;
      const chosen = allowed.find((each) => each === text);
      if (chosen !== undefined) return chosen;
      problems.push(wrongValue(option, text, allowed.join(' or ')));
      return null;
    },
  };
}

const methods: readonly (LayName | 'best')[] = [...layNames, 'best'];

/** `lengthwise-fold` is taken for `lengthwise fold`, so that it needs no quotes. */
function checkMethod(text: string | undefined, problems: string[]): LayName | 'best' | null {
  if (text === undefined) return null;
  const name = text.replaceAll('-', ' ');
  const chosen = methods.find((method) => method === name);
  if (chosen !== undefined) return chosen;
  problems.push(wrongValue('--method', text, methods.join(' or ')));
  return null;
}
