import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { readCutList } from '../../src/cutlist/read.js';
import { piecesAsRead } from '../../src/report/pieces-as-read.js';

const apron = readFileSync(
  fileURLToPath(new URL('../../fixtures/boatyard/slipway-apron.yaml', import.meta.url)),
  'utf8',
);

function asRead(text: string): string {
  const read = readCutList(text, 'apron.yaml');
  if (!read.ok) throw new Error(read.faults.map(({ what }) => what).join('\n'));
  return piecesAsRead(read.value, 200).join('\n');
}

test('says size, grain, fold, allowances and marks of every piece', () => {
  expect(asRead(apron)).toContain(
    'Bib: cut 1 on fold from shell, read as 1 copy, unfolded; 91.0 cm along the grain x 72.3 cm across, area 5117.8 cm2\n' +
      '  grain head towards A-B; F-A on the fold; allowance 1.0 cm, C-D 0.6 cm, E-F 4.0 cm; 2 notches, 2 awl points',
  );
});

test('a grain line the wrong way up can be seen', () => {
  const turned = apron.replace('grain: [[9.5, 20], [9.5, 3]]', 'grain: [[9.5, 3], [9.5, 20]]');
  expect(turned).not.toBe(apron);
  expect(asRead(apron)).toMatch(/Patch pocket: .*\n {2}grain head towards A-B/);
  expect(asRead(turned)).not.toMatch(/Patch pocket: .*\n {2}grain head towards A-B/);
});
