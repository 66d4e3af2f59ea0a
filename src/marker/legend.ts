/** A row of samples that says what each line and sign on the plan means; only what the plan shows is named. */
import { doubledGrey, flawGrey } from './cloth-drawing.js';
import type { ClothView } from './cloth-view.js';
import { matchMm, matchStrokes } from './match-sign.js';
import { grainArrow, lineOf, triangle } from './piece-drawing.js';
import { makeText } from './text.js';
import type { Item, PagePoint, TextMeasure } from './types.js';

const sampleMm = 9;
const sizePt = 6;
const rowMm = 4;

interface Sample {
  readonly words: string;
  draw(at: PagePoint): readonly Item[];
}

export interface Legend {
  readonly heightMm: number;
  draw(at: PagePoint): readonly Item[];
}

/** Sets the samples in as many rows as they need. */
export function makeLegend(measure: TextMeasure, view: ClothView, widthMaxMm: number): Legend {
  const spots: { readonly sample: Sample; readonly x: number; readonly row: number }[] = [];
  let x = 0;
  let row = 0;
  for (const sample of samplesFor(measure, view)) {
    const wide = sampleMm + 1.5 + makeText(measure, sample.words, [0, 0], { sizePt }).widthMm;
    if (x > 0 && x + wide > widthMaxMm) {
      x = 0;
      row++;
    }
    spots.push({ sample, x, row });
    x += wide + 4.5;
  }
  return {
    heightMm: (row + 1) * rowMm,
    draw: ([left, top]) =>
      spots.flatMap((spot) => {
        const middle = top + spot.row * rowMm + rowMm / 2;
        const from = left + spot.x;
        return [
          ...spot.sample.draw([from, middle]),
          makeText(measure, spot.sample.words, [from + sampleMm + 1.5, middle + 0.75], { sizePt }),
        ];
      }),
  };
}

function samplesFor(measure: TextMeasure, view: ClothView): readonly Sample[] {
  const line = (words: string, kind: Parameters<typeof lineOf>[0]): Sample => ({
    words,
    draw: ([x, y]) => [
      lineOf(
        kind,
        [
          [x, y],
          [x + sampleMm, y],
        ],
        false,
      ),
    ],
  });
  const { pieces } = view;
  return [
    line('cutting line', 'cutting'),
    ...(pieces.some(({ seam }) => seam !== null) ? [line('seam line', 'seam')] : []),
    ...(pieces.some(({ lines }) => lines.some(({ isCut }) => !isCut))
      ? [line('hem, dart or other line', 'inner')]
      : []),
    ...(pieces.some(({ onClothFold }) => !onClothFold) ? [grainSample] : []),
    ...(pieces.some(({ onClothFold }) => onClothFold) ? [bracketSample] : []),
    ...(pieces.some(({ notches }) => notches.length > 0) ? [notchSample] : []),
    ...(pieces.some(({ awl }) => awl.length > 0) ? [awlSample] : []),
    ...(pieces.some(({ match }) => match.length > 0) ? [matchSample] : []),
    ...(pieces.some(({ printedSide }) => printedSide === 'down') ? [downSample(measure)] : []),
    line('limits of usable cloth', 'limit'),
    ...(view.bars.along.length + view.bars.across.length > 0 ? [line('bar of the repeat', 'bar')] : []),
    ...(view.flaws.length > 0 ? [greySample('flaw: nothing is cut here', flawGrey)] : []),
    ...(hasFold(view) ? [line('fold', 'fold')] : []),
    ...(view.stretches.some(({ turnedOver }) => turnedOver.length > 0)
      ? [greySample('cloth turned over: two layers', doubledGrey)]
      : []),
  ];
}

/** The sign that follows the number of a piece; no number, which could be one of the lay. */
function downSample(measure: TextMeasure): Sample {
  return {
    words: 'paper printed side down',
    draw: ([x, y]) => [makeText(measure, '↓', [x + sampleMm, y + 1], { sizePt: 8, bold: true, anchor: 'end' })],
  };
}

const grainSample: Sample = {
  words: 'grain line, arrow at its head',
  draw: ([x, y]) =>
    grainArrow(
      [
        [x, y],
        [x + sampleMm, y],
      ],
      null,
    ),
};

function hasFold({ stretches, beginsWith }: ClothView): boolean {
  return beginsWith === 'fold' || stretches.some(({ left, right }) => `${left.name} ${right.name}`.includes('fold'));
}

function greySample(words: string, grey: number): Sample {
  return {
    words,
    draw: ([x, y]) => [
      {
        type: 'area',
        points: [
          [x, y - 1],
          [x + sampleMm, y - 1],
          [x + sampleMm, y + 1],
          [x, y + 1],
        ],
        grey,
      },
    ],
  };
}

const bracketSample: Sample = {
  words: 'this edge on the fold, arrow to the head',
  draw: ([x, y]) => {
    const [from, to, stem, edge] = [x + 0.6, x + sampleMm - 0.6, y - 1, y + 1.2];
    const lines = lineOf(
      'grain',
      [
        [from, edge - 0.9],
        [from, stem],
        [to, stem],
        [to, edge - 0.9],
      ],
      false,
    );
    const heads = [from, to].map((at) => triangle([at, edge], [at, edge - 1.1], 0.35));
    return [lines, ...heads, triangle([to - 2, stem], [to - 3.2, stem], 0.4)];
  },
};

const notchSample: Sample = {
  words: 'notch',
  draw: ([x, y]) => [
    lineOf(
      'cutting',
      [
        [x, y + 0.8],
        [x + sampleMm, y + 0.8],
      ],
      false,
    ),
    lineOf(
      'mark',
      [
        [x + sampleMm / 2, y + 0.8],
        [x + sampleMm / 2, y - 0.7],
      ],
      false,
    ),
  ],
};

const awlSample: Sample = {
  words: 'awl point',
  draw: ([x, y]) => [
    lineOf(
      'mark',
      [
        [x + sampleMm - 1.4, y],
        [x + sampleMm - 0.2, y],
      ],
      false,
    ),
    lineOf(
      'mark',
      [
        [x + sampleMm - 0.8, y - 0.6],
        [x + sampleMm - 0.8, y + 0.6],
      ],
      false,
    ),
  ],
};

const matchSample: Sample = {
  words: 'match point: on the same place of the design',
  draw: ([x, y]) => matchStrokes([x + sampleMm - 0.2 - matchMm, y]),
};
