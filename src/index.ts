/**
 * Shortlay as a library: text and options in, faults or checked lays with their drawings out. Nothing here touches
 * files, terminal, clock or threads; the caller hands in what is needed of them.
 */
export { beginCutList } from './cutlist/begin.js';
export { type Drawings, drawingsNamed } from './cutlist/drawings.js';
export { checkCutList, checkLayFile, rewriteLay } from './jobs/check.js';
export { type CompareAnswer, type CompareOptions, compareCutLists, comparisonEffort } from './jobs/compare.js';
export {
  type LayOutput,
  type PlanAnswer,
  type PlanOptions,
  type PlanTools,
  planCutList,
  planCutLists,
} from './jobs/plan.js';
export {
  type Dated,
  type DrawnPieces,
  drawPieces,
  type LayPageOptions,
  type PrintedLay,
  type PrintedPieces,
  type PrintFormat,
  printChalk,
  printFormats,
  printMarker,
  printPieces,
  printPlan,
} from './jobs/print.js';
export { type CutListSource, cutPiecesFor, type KeptSource } from './jobs/sources.js';
export type { MaterialPlan } from './planning/types.js';
