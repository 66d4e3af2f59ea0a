/**
 * The batch loop: numbered tasks of fixed work in batches of fixed size, merged by number, the best handed on
 * between batches. What batch k does never depends on the effort, the clock or the number of threads, so a run
 * with more effort begins like one with less, and a run with the effort reached repeats its bytes.
 *
 * Batch 0 builds the plain orders; from each share of them a chain begins, which every batch goes on with. After a race
 * of some batches (of many things after the first) only the best of them go on; one that falls behind gives its place to
 * a second line of the best, which of many things begins well shaken. A chain that finds nothing shorter for long is
 * over, and another begins from a random order (of very many things from the best lay, well shaken). How many
 * independent starts reach the best length tells how sure one may be of it, and ends the search early.
 *
 * Two tasks of equal work seldom take equally long. So that no thread waits for the end of a batch, a chain that is back
 * when a thread would have nothing to do is sent on at once. That is what the next batch most likely asks; where it decides
 * otherwise, the answer is left aside, so asking ahead changes no result.
 */

import { boundOf, chordBound, sharpenBound } from '../bounds/bounds.js';
import type { Bound } from '../bounds/types.js';
import { assert } from '../diagnostics/assert.js';
import { flatOutline, flatsApart } from '../geometry/overlap.js';
import { pinnedEnd } from '../problem/lattice.js';
import type { Problem, Solution } from '../problem/types.js';
import type { Um } from '../units/types.js';
import { ask } from './ask.js';
import { countThings } from './construct.js';
import { decodeSolution, encodeSolution, sumOfX } from './lay-code.js';
import {
  plainShares,
  runTask,
  startChain,
  startFresh,
  startGiven,
  startPlain,
  startShaken,
  taskSteps,
} from './task.js';
import type { Executor, Progress, SearchResult, TaskResult } from './types.js';

/** Chains that race, one for each share of the plain orders; constants, never the number of threads. */
const racing = plainShares;
/** Of many things a chain gets somewhere only in the long run, so the race is over after the first batch. */
const raceBatches = 16;
const raceBatchesOfMany = 1;
const manyThings = 25;
/** Of very many a random order does not catch up: what is over begins again from the best, well shaken. */
const veryManyThings = 50;
/** Chains from then on. */
const lasting = 2;
/** Effort of a task that does the work foreseen: about an eighth of a second on one core. */
const taskEffort = 1 / 16;
/** A chain is over when it found nothing shorter for so many batches, and one more for each thing. */
const patientBatches = 6;
/** A chain that is longer than the best by more than this share, and got no shorter for so many batches, gives up its
 * place to a second line of the best one. */
const behindShare = 0.002;
const behindBatches = 24;
/** Lengths no further apart than this count as the same. */
const sameLengthUm = 100;
/** The search ends when this many independent starts reached the best length, and half of all did. */
const startsToStop = 6;
/** ... and nothing shorter was found for so much effort. */
const quietEffort = 2;

interface Found {
  readonly solution: Solution;
  readonly sumX: number;
}

/** An independent start: its best lay, and whether nobody goes on with it. */
interface Start {
  found: Found | null;
  isOver: boolean;
  /** Begun from a lay known from elsewhere: it says nothing about how surely a length is found. */
  readonly isOffered: boolean;
}

/** What one task of each batch goes on with: a chain of a start, the length it has, and when it last got shorter. */
interface Line {
  readonly start: Start;
  /** What the next task does: build by an order, begin from the lay of the start, go on with the chain, or shake it well. */
  next: 'build' | 'begin' | 'go on' | 'shake';
  chain: Int32Array;
  lengthUm: Um;
  batch: number;
}

/** A task asked for before its batch, and the chain it goes on with. */
interface Ahead {
  readonly chain: Int32Array;
  readonly answer: Promise<TaskResult | null>;
}

interface State {
  /** No lay is shorter, wherever it begins. Sharpened after the first batch. */
  bound: Bound;
  readonly things: number;
  batch: number;
  effort: number;
  best: Found | null;
  /** The line that found the best, as it was then. */
  bestLine: Line | null;
  /** Effort at which the best length last became clearly shorter. */
  shortenedAt: number;
  readonly starts: Start[];
  /** One for each task of a batch. */
  readonly lines: Line[];
  /** Begins from a lay that was offered, in the place of another line. */
  offered: Line | null;
  /** By number, tasks of the next batch. */
  ahead: Map<number, Ahead>;
}

/** A search that its owner drives batch by batch, so that several can share one effort. */
export interface Search {
  /** No further batch would help: proven shortest, sure enough, or it cannot fit. */
  readonly finished: boolean;
  /** Effort spent so far. */
  readonly effort: number;
  readonly bound: Bound;
  /** Of the shortest lay found so far, also when it is too long for the cloth at hand; null = none yet. */
  readonly lengthUm: Um | null;
  /** That lay; null = none yet. */
  readonly best: Solution | null;
  /**
   * A legal lay of the same problem, known from elsewhere. If it is shorter than what was found it counts as found, and
   * the next batch goes on from it as well.
   */
  offer(solution: Solution): void;
  /** One batch; not to be called again before it is done, nor when finished. */
  step(): Promise<Progress>;
  /** What was found so far; `interrupted`: somebody ended the search before it was done. */
  result(interrupted: boolean): SearchResult;
}

export interface SearchSettings {
  readonly seed: number;
  readonly executor: Executor;
  /** Try all arrangements of a few copies to prove that a cloth at hand cannot do; it takes up to a third of a second. */
  readonly provesFit?: boolean;
}

/** A search that has done nothing yet. */
export function startSearch(problem: Problem, settings: SearchSettings): Search {
  const things = countThings(problem);
  const isEmpty = things === 0;
  const isPinned = (problem.pinned ?? []).length > 0;
  const bound = isEmpty && !isPinned ? { um: 0, why: 'nothing to lay' } : chordBound(problem);
  const fromStart = !isEmpty && problem.lengthMaxUm !== null && settings.provesFit !== false ? boundOf(problem) : bound;
  const hasNoChoice = problem.kinds.some((kind) => kind.count > 0 && kind.choices.length === 0);
  const cannotFit = hasNoChoice || (problem.lengthMaxUm !== null && fromStart.um > problem.lengthMaxUm);
  const state: State = {
    // What cannot fit says by what it needs from the very start.
    bound: cannotFit ? fromStart : bound,
    things,
    batch: 0,
    effort: 0,
    best: null,
    bestLine: null,
    shortenedAt: 0,
    starts: [],
    lines: [],
    offered: null,
    ahead: new Map(),
  };
  return {
    get bound() {
      return state.bound;
    },
    get finished() {
      return isEmpty || cannotFit || ((state.batch > 0 || state.best !== null) && isDone(problem, state));
    },
    get effort() {
      return state.effort;
    },
    get lengthUm() {
      return isEmpty ? pinnedEnd(problem) : (state.best?.solution.lengthUm ?? null);
    },
    get best() {
      return state.best?.solution ?? null;
    },
    offer(solution) {
      if (isEmpty || cannotFit || solution.lengthUm >= (state.best?.solution.lengthUm ?? Number.POSITIVE_INFINITY))
        return;
      const start: Start = { found: { solution, sumX: sumOfX(solution) }, isOver: false, isOffered: true };
      state.starts.push(start);
      const before = state.best?.solution.lengthUm ?? Number.POSITIVE_INFINITY;
      if (solution.lengthUm < before - sameLengthUm) state.shortenedAt = state.effort;
      state.best = start.found;
      state.offered = { ...newLine(start, state.batch, 'begin'), lengthUm: solution.lengthUm };
    },
    step: async () => {
      await runBatch(problem, settings, state);
      const isShortest = state.best !== null && state.best.solution.lengthUm <= state.bound.um;
      if (state.batch === 1 && !isShortest) state.bound = sharpenBound(problem, state.bound);
      return progressOf(state);
    },
    result(interrupted) {
      if (isEmpty) return emptyResult(pinnedEnd(problem), bound);
      if (cannotFit) return outcome(problem, state, 'does not fit', true);
      const status = interrupted && !this.finished ? 'interrupted' : 'shortest found';
      return outcome(problem, state, status, false);
    },
  };
}

/** Nothing is to be laid but what is pinned, if anything is. */
function emptyResult(lengthUm: Um, bound: Bound): SearchResult {
  return {
    solution: { spots: [], lengthUm },
    bound,
    status: 'proven shortest',
    lengthFoundUm: lengthUm,
    fitProven: false,
    effort: 0,
    reachedBy: { starts: 0, of: 0 },
  };
}

async function runBatch(problem: Problem, settings: SearchSettings, state: State): Promise<void> {
  chooseLines(state);
  const results = await batchResults(problem, settings, state);
  const before = state.best?.solution.lengthUm ?? Number.POSITIVE_INFINITY;
  results.forEach((result, slot) => {
    state.effort += taskEffort * Math.max(1, Math.round(result.steps / taskSteps));
    mergeResult(problem, state, state.lines[slot]!, result);
  });
  if (state.best !== null && state.best.solution.lengthUm < before - sameLengthUm) state.shortenedAt = state.effort;
  state.batch++;
}

/** The results of this batch by slot; lost ones are done here. So that no thread is idle, tasks are asked for ahead. */
async function batchResults(
  problem: Problem,
  { executor, seed }: SearchSettings,
  state: State,
): Promise<readonly TaskResult[]> {
  const { lines, batch, bound, ahead } = state;
  state.ahead = new Map();
  // Many searches are looked at for one batch only, and when the race ends slots are dealt anew.
  const asksAhead = batch > 0 && batch + 1 !== raceEndOf(state);
  let left = lines.length;
  return Promise.all(
    lines.map(async (line, slot) => {
      const task = { number: numberOf(batch, slot), seed, start: startOf(line, batch, slot, bound.um) };
      const early = ahead.get(task.number);
      const isAsked = early?.chain === line.chain && line.next === 'go on';
      const result = (await (isAsked ? early.answer : ask(executor, problem, task))) ?? runTask(problem, task);
      left--;
      const { chain } = result;
      if (asksAhead && left > 0 && left < executor.threads && chain.length > 0) {
        const next = { number: numberOf(batch + 1, slot), seed, start: startChain(chain) };
        state.ahead.set(next.number, { chain, answer: ask(executor, problem, next) });
      }
      return result;
    }),
  );
}

function numberOf(batch: number, slot: number): number {
  return batch * racing + slot;
}

function startOf({ next, chain, start }: Line, batch: number, slot: number, boundUm: Um): Int32Array {
  if (next === 'go on') return startChain(chain);
  if (next === 'shake') return startShaken(chain);
  if (next === 'begin') {
    const { solution } = start.found!;
    return startGiven(boundUm, solution.lengthUm, encodeSolution(solution));
  }
  return batch === 0 ? startPlain(boundUm, slot) : startFresh(boundUm);
}

/** The batch at whose beginning the best lines are chosen. */
function raceEndOf({ things }: State): number {
  return things > manyThings ? raceBatchesOfMany : raceBatches;
}

/** Ends lines that lost the race, fell behind or got no shorter for long, and begins others in their place. */
function chooseLines(state: State): void {
  const { lines, starts, batch } = state;
  const raceEnd = raceEndOf(state);
  if (batch === raceEnd) {
    // A stable order: of two equally long the first goes on.
    lines.sort((a, b) => a.lengthUm - b.lengthUm);
    lines.splice(lasting);
  }
  const count = batch < raceEnd ? racing : lasting;
  if (state.offered !== null) {
    const longest = lines.reduce((most, line, slot) => (line.lengthUm > lines[most]!.lengthUm ? slot : most), 0);
    lines[batch === 0 ? racing - 1 : longest] = state.offered;
    state.offered = null;
  }
  for (let slot = 0; slot < count; slot++) {
    const line = lines[slot];
    const quiet = line === undefined ? Number.POSITIVE_INFINITY : batch - line.batch;
    const isOver = quiet > patientBatches + state.things;
    if (isOver && (state.bestLine === null || state.things <= veryManyThings)) {
      const start: Start = { found: null, isOver: false, isOffered: false };
      starts.push(start);
      lines[slot] = newLine(start, batch, 'build');
    } else if (isOver) {
      lines[slot] = shakenLine(state.bestLine!, batch);
    } else if (batch >= raceEnd && quiet > behindBatches) {
      const first = lines.reduce((a, b) => (b.lengthUm < a.lengthUm ? b : a));
      if (line!.lengthUm <= first.lengthUm * (1 + behindShare)) continue;
      lines[slot] = state.things > manyThings ? shakenLine(first, batch) : { ...first, batch };
    }
  }
  for (const start of starts) start.isOver = !lines.some((line) => line.start === start);
}

function newLine(start: Start, batch: number, next: Line['next']): Line {
  return { start, next, chain: new Int32Array(0), lengthUm: Number.POSITIVE_INFINITY, batch };
}

/** Begins from the best lay of another line, well shaken; whatever comes of it is new. */
function shakenLine({ start, chain }: Line, batch: number): Line {
  return { ...newLine(start, batch, 'shake'), chain };
}

function mergeResult(problem: Problem, state: State, line: Line, { best, chain }: TaskResult): void {
  line.chain = chain;
  if (best.length > 0) {
    const solution = decodeSolution(problem, best);
    const found: Found = { solution, sumX: sumOfX(solution) };
    if (state.best === null || compare(found, state.best) < 0) state.best = found;
    const { start } = line;
    if (start.found === null || compare(found, start.found) < 0) start.found = found;
    if (solution.lengthUm < line.lengthUm) {
      line.lengthUm = solution.lengthUm;
      line.batch = state.batch;
    }
  }
  line.next = chain.length > 0 ? 'go on' : 'build';
  if (line.lengthUm < (state.bestLine?.lengthUm ?? Number.POSITIVE_INFINITY)) state.bestLine = { ...line };
}

/** Length, then the sum of x; of equal ones the earlier task's counts. */
function compare(a: Found, b: Found): number {
  return a.solution.lengthUm - b.solution.lengthUm || a.sumX - b.sumX;
}

/** Independent starts that are over or reached the best length, and how many of them reached it. */
function reachedBy({ best, starts }: State): { starts: number; of: number } {
  if (best === null) return { starts: 0, of: 0 };
  const most = best.solution.lengthUm + sameLengthUm;
  const own = starts.filter(({ isOffered }) => !isOffered);
  const reached = own.filter((start) => shortestOf(start) <= most).length;
  const over = own.filter((start) => start.isOver && shortestOf(start) > most).length;
  return { starts: reached, of: reached + over };
}

function shortestOf({ found }: Start): number {
  return found === null ? Number.POSITIVE_INFINITY : found.solution.lengthUm;
}

/** After the first batch. */
function isDone(problem: Problem, state: State): boolean {
  const { best, bound } = state;
  // No lay was found that coordinates can hold, or none in which all that is cut on a crosswise fold has room: others would
  // be as long, or seldom have it.
  if (best === null) return true;
  if (best.solution.lengthUm <= Math.max(bound.um, pinnedEnd(problem))) return true;
  if (problem.lengthMaxUm !== null && best.solution.lengthUm > problem.lengthMaxUm) return false;
  const { starts, of } = reachedBy(state);
  return starts >= startsToStop && 2 * starts >= of && state.effort - state.shortenedAt >= quietEffort;
}

function progressOf({ batch, effort, best, bound }: State): Progress {
  const lengthUm = best?.solution.lengthUm ?? null;
  const gapPercent = lengthUm === null ? null : (100 * (lengthUm - bound.um)) / lengthUm;
  return { batch, effort, lengthUm, boundUm: bound.um, gapPercent };
}

function outcome(problem: Problem, state: State, status: SearchResult['status'], fitProven: boolean): SearchResult {
  const { best, effort, bound } = state;
  const lengthFoundUm = best?.solution.lengthUm ?? null;
  const rest = { bound, fitProven, effort, lengthFoundUm, reachedBy: reachedBy(state) };
  const isTooLong = best !== null && problem.lengthMaxUm !== null && best.solution.lengthUm > problem.lengthMaxUm;
  if (best === null || isTooLong) {
    return { solution: null, status: status === 'interrupted' ? status : 'does not fit', ...rest };
  }
  assertLegal(problem, best.solution);
  const isProven = best.solution.lengthUm <= bound.um;
  assert(best.solution.lengthUm >= bound.um, 'no lay is shorter than the bound');
  return { solution: best.solution, status: isProven ? 'proven shortest' : status, ...rest };
}

/** The last word of the engine on its own lay: everything on true outlines, taken directly from their edges. */
function assertLegal(problem: Problem, solution: Solution): void {
  const things = solution.spots.map(({ kind, choice: index, x, y }) => {
    const choice = problem.kinds[kind]!.choices[index]!;
    assert(y >= choice.yMin && y <= choice.yMax, 'a thing lies within its y range');
    const lattice = choice.lattice;
    if (lattice !== null) {
      assert(lattice.xStep === 0 || (x - lattice.xOffset) % lattice.xStep === 0, 'a thing lies on its lattice along');
      assert(lattice.yStep === 0 || (y - lattice.yOffset) % lattice.yStep === 0, 'a thing lies on its lattice across');
    }
    return flatOutline(problem.shapes[choice.shape]!.outline, x, y);
  });
  problem.kinds.forEach((kind, k) => {
    assert(solution.spots.filter((spot) => spot.kind === k).length === kind.count, 'every thing is laid');
  });
  for (const { box } of things)
    assert(box.minX >= 0 && box.maxX <= solution.lengthUm, 'a thing lies within the length');
  const blocked = problem.blocked.map(({ shape, x, y }) => flatOutline(problem.shapes[shape]!.outline, x, y));
  const laid = new Set(things);
  const all = [...things, ...blocked].sort((a, b) => a.box.minX - b.box.minX);
  all.forEach((one, i) => {
    for (let j = i + 1; j < all.length && all[j]!.box.minX < one.box.maxX + problem.gapUm; j++) {
      // Blocked areas may overlap each other.
      if (!laid.has(one) && !laid.has(all[j]!)) continue;
      assert(flatsApart(one, all[j]!, problem.gapUm), 'two things keep their distance');
    }
  });
}
