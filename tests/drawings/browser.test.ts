/**
 * Outlines from SVG against a browser: 50 random paths of all commands, nested in random transforms, on pages in mm, cm
 * and inches. browser-paths.json holds points at equal steps of length (getPointAtLength through getCTM, in mm) and, of
 * paths without transforms, getTotalLength in user units, as Chromium 156 gave them.
 */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { readSvgFile } from '../../src/drawings/svg-file.js';

interface Sample {
  readonly svg: string;
  readonly length: number | null;
  readonly pointsMm: readonly (readonly [number, number])[];
}

const samples = JSON.parse(readFileSync(new URL('./browser-paths.json', import.meta.url), 'utf8')) as readonly Sample[];

/** The browser's own arcs stray so far from true ones (drawn as cubics or conics); ours stray 0.02 mm at most. */
const nearMm = 0.11;

test.each(samples.map((sample, i) => [i, sample] as const))('path %i', (_, { svg, length, pointsMm }) => {
  const drawing = readSvgFile(svg);
  if ('problem' in drawing) throw new Error(drawing.problem);
  const [outline] = drawing.outlines;
  const [, highMm] = drawing.pageMm;
  const ring = outline!.edges
    .flatMap(({ points }) => points.slice(0, -1))
    .map(([x, y]) => [x / 1000, highMm - y / 1000] as const);
  const sides = ring.map((from, i) => [from, ring[(i + 1) % ring.length]!] as const);
  for (const [x, y] of pointsMm) {
    const distances = sides.map(([[ax, ay], [bx, by]]) => {
      const [dx, dy] = [bx - ax, by - ay];
      const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
      return Math.hypot(x - ax - t * dx, y - ay - t * dy);
    });
    expect(Math.min(...distances)).toBeLessThan(nearMm);
  }
  if (length === null) return;
  const perUnit = /viewBox="0 0 210 297"/.test(svg) ? 1 : /viewBox="0 0 400 400"/.test(svg) ? 203.2 / 400 : 2;
  const ours = sides.reduce((sum, [[ax, ay], [bx, by]]) => sum + Math.hypot(bx - ax, by - ay), 0);
  expect(Math.abs(ours / (length * perUnit) - 1)).toBeLessThan(0.0005);
});
