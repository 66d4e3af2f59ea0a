/** Folders of a test, and small cut lists to put there. */
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** A fresh folder holding these files; gone when the test ends. */
export function sceneOf(files: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'shortlay-cli-'));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
  return folder;
}

/** Everything in a folder and below, sorted. */
export function filesIn(folder: string): string[] {
  return (readdirSync(folder, { recursive: true }) as string[]).sort();
}

/** A bag of two boards and a strap: plans in a moment. */
export const bag = `title: Oar bag
units: cm
drawn: cut
pieces:
  Side:
    rectangle: [60, 40]
    cut: {canvas: 2}
  Strap:
    rectangle: [90, 6]
    cut: {canvas: 2 same way}
cloths:
  sailcloth: {for: canvas, width: 150, usable: 147, price: 12}
`;

/** A piece wider than the cloth. */
export const tooWide = bag.replace('[60, 40]', '[60, 200]');

/** Many odd pieces, so that a search of great effort goes on for long. */
export function flags(count: number): string {
  const pieces = Array.from({ length: count }, (_, i) => {
    const along = 20 + ((7 * i) % 13);
    const across = 11 + ((5 * i) % 9);
    return `  Flag ${i}:
    outline: {A: [0, 0], B: [${across}, ${i % 4}], C: [${across - 3}, ${along}], D: [${2 + (i % 3)}, ${along - 4}]}
    grain: [[5, 4], [5, 9]]
    cut: {bunting: 3 same way}
`;
  });
  return `title: Signal flags
units: cm
drawn: cut
pieces:
${pieces.join('')}cloths:
  bunting: {for: bunting, width: 112, usable: 107, nap: none, method: open}
`;
}
