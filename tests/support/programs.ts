/** Outside programs that look at what was written; a test says so when one is missing. */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export function hasProgram(name: string): boolean {
  return spawnSync(name, ['-v'], { stdio: 'ignore' }).error === undefined;
}

/** All that a program says of a PDF. */
export function saysOf(program: string, words: (path: string) => readonly string[], pdf: Uint8Array): string {
  return withFile(pdf, (path) => {
    const { stdout, stderr, status } = spawnSync(program, words(path), { encoding: 'utf8' });
    return status === 0 ? `${stdout}${stderr}` : `${program} ends with ${status}: ${stderr}`;
  });
}

export interface Grey {
  readonly width: number;
  readonly height: number;
  at(x: number, y: number): number;
}

/** A part of a page rasterised by pdftoppm at 300 dots per inch; the box in dots. */
export function rasterised(
  pdf: Uint8Array,
  page: number,
  [x, y, width, height]: readonly [number, number, number, number],
): Grey {
  const bytes = withFile(pdf, (path) => {
    const box = ['-x', x, '-y', y, '-W', width, '-H', height].map(String);
    const words = ['-r', '300', '-gray', '-f', String(page), '-l', String(page), ...box, path];
    return execFileSync('pdftoppm', words, { maxBuffer: 1 << 30 });
  });
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString('latin1'))!;
  const [begins, wide, high] = [head[0].length, Number(head[1]), Number(head[2])];
  return { width: wide, height: high, at: (px, py) => bytes[begins + py * wide + px]! };
}

/** Middles of dark runs along a line of values. */
export function darkRuns(length: number, value: (i: number) => number): readonly number[] {
  const middles: number[] = [];
  let from = -1;
  for (let i = 0; i <= length; i++) {
    const isDark = i < length && value(i) < 128;
    if (isDark && from < 0) from = i;
    if (!isDark && from >= 0) {
      middles.push((from + i - 1) / 2);
      from = -1;
    }
  }
  return middles;
}

function withFile<T>(bytes: Uint8Array, look: (path: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'marker-'));
  try {
    const path = join(folder, 'a.pdf');
    writeFileSync(path, bytes);
    return look(path);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
