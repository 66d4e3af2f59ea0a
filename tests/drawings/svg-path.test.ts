import { describe, expect, test } from 'vitest';
import { readPathData } from '../../src/drawings/svg-path.js';

function edges(text: string) {
  const read = readPathData(text, 10_000);
  if ('problem' in read) throw new Error(read.problem);
  return read.edges;
}

function problem(text: string): string {
  const read = readPathData(text, 10_000);
  return 'problem' in read ? read.problem : 'no problem';
}

describe('path data', () => {
  test('corners in path order, y turned up', () => {
    const ring = edges('M0 0 H18 V16 C18 20 0 20 0 16 Z');
    expect(ring.map(({ points }) => points[0])).toEqual([
      [0, 0],
      [180_000, 0],
      [180_000, -160_000],
      [0, -160_000],
    ]);
    expect(ring.map(({ curved }) => curved)).toEqual([false, false, true, false]);
  });

  test('relative commands, smooth curves and a closing point drawn twice', () => {
    const ring = edges('m10 10 l5 0 0 5 q0 5 -5 5 t-5 -5 l0 0 l5 -5 z');
    expect(ring.at(-1)!.points.at(-1)).toEqual([100_000, -100_000]);
    expect(ring.filter(({ curved }) => curved)).toHaveLength(2);
  });

  test('an arc keeps its side: sweep 1 bulges to the left of a way down the page', () => {
    // SVG 1.1, 8.3.8: with sweep 1 the arc runs in the direction of growing angle, clockwise as seen.
    const [arc] = edges('M0 0 A5 5 0 0 1 0 10 Z');
    expect(Math.max(...arc!.points.map(([x]) => x))).toBeGreaterThan(49_000);
  });

  test.each([
    ['', /empty/],
    ['M0 0 L10 0 L10 10', /not closed/],
    ['M0 0 L10 0 L10 10 Z M20 20 L30 20 L30 30 Z', /more than one part/],
    ['L0 0 L10 0 Z', /should start with/],
    ['M0 0 L10 zero Z', /at pos/],
    ['M0 0 L1e300 0 L5 5 Z', /farther than 20 m/],
    ['M0 0 C1e300 0 0 1e300 10 10 L5 0 Z', /farther than 20 m/],
    ['M0 0 Q1e12 0 10 10 L5 0 Z', /farther than 20 m/],
    ['M0 0 A1e9 1e9 0 1 1 10 10 L5 0 Z', /farther than 20 m/],
    ['M0 0 Z', /encloses nothing/],
  ])('%j is refused', (text, what) => {
    expect(problem(text)).toMatch(what);
  });
});
