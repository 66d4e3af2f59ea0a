/**
 * The largest work that the program is made for, a thousand copies of forty kinds with five hundred corners each: read,
 * checked, written, read again, and seen as the plan draws it. The search itself is measured by `npm run bench:limits`.
 */
import { expect, test } from 'vitest';
import { largeCutList, largestWork } from '../src/bench/largest.js';
import { checkLay } from '../src/checker/check-lay.js';
import { readCutList } from '../src/cutlist/read.js';
import { cutPiecesFor } from '../src/jobs/sources.js';
import { readLay } from '../src/lay/read.js';
import type { Lay } from '../src/lay/types.js';
import { writeLay } from '../src/lay/write.js';
import { viewCloth } from '../src/marker/cloth-view.js';
import { boxOf } from '../src/marker/piece-drawing.js';
import { layOf } from './support/lays.js';

function read() {
  const answer = readCutList(largeCutList(largestWork), 'fleet.yaml');
  if (!answer.ok) throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer.value;
}

test('it is read, checked, written, read again and seen', () => {
  const cutList = read();
  expect(cutList.pieces).toHaveLength(40);
  expect(cutList.pieces.every(({ corners }) => corners.length === 500)).toBe(true);
  const pieces = cutPiecesFor(cutList, 'shell');
  const puts = pieces.flatMap((piece) => Array.from({ length: 25 }, (_, i) => ({ piece, mirror: i % 2 === 1 })));
  const lay = layOf({ title: cutList.title, cloth: cutList.cloths[0]!.cloth, puts });
  expect(lay.copies).toHaveLength(1_000);
  expect(checkLay(lay).refusals).toEqual([]);
  const again = readLay(writeLay(lay), 'fleet.lay.json');
  expect(again.ok && again.value.selfHash).toBe(lay.selfHash);
  const { usedUm } = viewCloth(lay as Lay, 'right');
  expect(usedUm[1] - usedUm[0]).toBe(lay.totals.lengthUsed);
  // The box around all outlines, as the marker takes it: more points than one call takes as arguments.
  const { left, right } = boxOf(lay.copies.flatMap(({ outline }) => outline));
  expect(right - left).toBe(lay.totals.lengthUsed);
}, 120_000);
