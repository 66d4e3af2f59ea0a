/**
 * Points of one group lie on the same place of the repeat in every copy. A place is the distance from a bar, less whole
 * repeats. Where the design looks the same mirrored, a copy that lies the other way round sees it mirrored, so that its
 * place counts with the opposite sign; where it does not, a copy may not be turned on it.
 */
import type { Cloth, Repeat } from '../cloth/types.js';
import type { Stretch } from '../lay/types.js';
import type { MatchPoint } from '../pieces/types.js';
import type { Point, Um } from '../units/types.js';
import { doubledBands } from './layers.js';
import type { Part } from './parts.js';
import type { Refusal } from './types.js';
import { mm, refuse } from './words.js';

type Axis = 'along' | 'across';

/** Every matched point on its place, every fold on an axis of the design. */
export function checkRepeat(parts: readonly Part[], stretches: readonly Stretch[], cloth: Cloth): Refusal[] {
  const { repeat } = cloth;
  if (repeat === null) return [];
  return [
    ...stretches.flatMap((stretch) => checkFolds(stretch, repeat, cloth)),
    ...parts.flatMap((part) => checkTurned(part, repeat)),
    ...(['along', 'across'] as const).flatMap((axis) => checkPlaces(parts, repeat, axis)),
  ];
}

function barOf(stretch: Stretch, repeat: Repeat): Point {
  return repeat.start ?? stretch.barAt ?? [0, 0];
}

function isMirrored({ mirror }: Repeat, axis: Axis): boolean {
  return mirror === 'both' || mirror === axis;
}

function checkFolds(stretch: Stretch, repeat: Repeat, cloth: Cloth): Refusal[] {
  const refusals: Refusal[] = [];
  const [barX, barY] = barOf(stretch, repeat);
  const hasBar = repeat.start !== null || stretch.barAt !== undefined;
  const look = (twiceAt: Um, bar: Um, axis: Axis, where: string) => {
    const step = repeat[axis];
    if (step === null) return;
    // With a drop a fold along the cloth lies on a column of the design, else half way between two as well.
    const whole = repeat.drop && axis === 'across' ? 2 * step : step;
    const off = hasBar ? remainder(twiceAt - 2 * bar, whole) : 0;
    if (isMirrored(repeat, axis) && off === 0) return;
    const why = off === 0 ? 'is not the same mirrored' : `has no axis there: ${mm(Math.min(off, whole - off) / 2)} off`;
    const what = `stretch ${stretch.id} is doubled ${where}, but the repeat ${axis} ${why}`;
    refusals.push(refuse('fold-off-repeat', what));
  };
  for (const { twiceFold } of doubledBands(stretch, cloth)) look(twiceFold, barY, 'across', 'by a fold along it');
  if (stretch.foldX !== undefined) look(2 * stretch.foldX, barX, 'along', 'by a fold across it');
  if (stretch.cutX !== undefined) {
    look(cloth.width, barY, 'across', 'by a layer turned over');
    const apart = stretch.cutX - stretch.from;
    if (repeat.along !== null && remainder(apart, repeat.along) !== 0) {
      const what = `the layers of stretch ${stretch.id} begin ${mm(apart)} apart, which is no whole number of repeats`;
      refusals.push(refuse('fold-off-repeat', what));
    }
  }
  return refusals;
}

function remainder(value: Um, step: Um): Um {
  const rest = value % step;
  return rest < 0 ? rest + step : rest;
}

function matched({ piece }: Part, axis: Axis, repeat: Repeat): readonly MatchPoint[] {
  const points = piece.match.filter(({ way }) => repeat.drop || way === 'both' || way === axis);
  if (!piece.onFold) return points;
  // The half that is drawn is listed first; the other half is its mirror image.
  const across = piece.lines.some(({ kind, points: ends }) => kind === 'fold' && ends.every(([x]) => x === 0));
  const from = ([x, y]: Point) => (across ? x : y);
  const drawn = piece.match.map(({ at }) => from(at)).find((value) => value !== 0) ?? 0;
  return points.filter(({ at }) => from(at) * drawn >= 0);
}

function checkTurned(part: Part, repeat: Repeat): Refusal[] {
  const { copy, name } = part;
  const axes = (['along', 'across'] as const).filter((axis) => repeat[axis] !== null);
  if (copy.turned === 0 || !axes.some((axis) => matched(part, axis, repeat).length > 0)) return [];
  // A half turn reverses both ways across the design; a mirrored copy has one of them reversed already.
  const isSame = (axis: Axis) => isMirrored(repeat, axis) || (axis === 'across' && copy.mirror);
  if (copy.turned === 180 && axes.every(isSame)) return [];
  const what = `${name} is turned by ${copy.turned} degrees, and the repeat does not look the same so`;
  return [refuse('turned-on-repeat', what)];
}

/** Whether a copy sees the design mirrored on an axis. */
function isFlipped({ copy }: Part, axis: Axis, repeat: Repeat): boolean {
  const isTurned = copy.turned === 180;
  return isMirrored(repeat, axis) && (axis === 'along' ? isTurned : isTurned !== copy.mirror);
}

function checkPlaces(parts: readonly Part[], repeat: Repeat, axis: Axis): Refusal[] {
  const step = repeat[axis];
  if (step === null) return [];
  const first = new Map<string, { readonly place: Um; readonly name: string }>([['bar', { place: 0, name: 'a bar' }]]);
  const refusals: Refusal[] = [];
  for (const part of parts) {
    for (const { at, group } of matched(part, axis, repeat)) {
      const place = remainder(placeOf(part, at, repeat, axis), step);
      const known = first.get(group);
      if (known === undefined) {
        first.set(group, { place, name: part.name });
        continue;
      }
      const off = remainder(place - known.place, step);
      if (off === 0) continue;
      const far = mm(Math.min(off, step - off));
      const what = `the point "${group}" of ${part.name} is ${far} off that of ${known.name} ${axis} the repeat`;
      refusals.push(refuse('off-repeat', what));
    }
  }
  return refusals;
}

/** From a bar, as the copy sees it; with a drop every second column lies half a repeat further along. */
function placeOf(part: Part, at: Point, repeat: Repeat, axis: Axis): Um {
  const [barX, barY] = barOf(part.stretch, repeat);
  const [x, y] = liesAt(part, at);
  const across = isFlipped(part, 'across', repeat) ? barY - y : y - barY;
  if (axis === 'across') return across;
  const along = isFlipped(part, 'along', repeat) ? barX - x : x - barX;
  if (!repeat.drop || repeat.across === null || repeat.along === null) return along;
  return along - (Math.floor(across / repeat.across) * repeat.along) / 2;
}

function liesAt({ copy }: Part, [x, y]: Point): Point {
  const [atX, atY] = copy.at;
  const across = copy.mirror ? -y : y;
  switch (copy.turned) {
    case 0:
      return [atX + x, atY + across];
    case 90:
      return [atX - across, atY + x];
    case 180:
      return [atX - x, atY - across];
    case 270:
      return [atX + across, atY - x];
  }
}
