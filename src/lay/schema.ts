/**
 * The structure of a lay file and the sizes it may have. docs/lay-file.schema.json is generated from it. What the
 * numbers mean together is the checker's to judge; here only their kind and range.
 */
import { z } from 'zod';
import { layMethods } from '../cloth/types.js';
import { coordinateMaxUm } from '../units/types.js';
import { layLimits } from './limits.js';

const text = z.string().max(layLimits.textCharacters);
const name = text.min(1);
const count = z.int().min(0).max(1_000_000);
const number = z.int().min(1).max(1_000_000);
const um = z.int().min(-coordinateMaxUm).max(coordinateMaxUm);
const length = z.int().min(0).max(coordinateMaxUm);
const point = z.tuple([um, um]);
const outline = z.array(point).min(3).max(layLimits.pointsPerOutline);
const points = z.array(point).max(layLimits.pointsPerOutline);

const cloth = z.strictObject({
  name,
  width: length.min(1),
  usable: z.tuple([length, length]),
  length: length.nullable(),
  ends: z.tuple([length, length]),
  gap: length,
  nap: z.enum(['one-way', 'each-garment', 'none']),
  faces: z.enum(['one', 'both']),
  grain: z.enum(['woven', 'free']),
  fusible: z.boolean(),
  repeat: z
    .strictObject({
      along: length.min(1).nullable(),
      across: length.min(1).nullable(),
      start: z.tuple([um, um]).nullable(),
      mirror: z.enum(['none', 'along', 'across', 'both']),
      drop: z.boolean(),
    })
    .nullable(),
  flaws: z.array(outline).max(layLimits.marksPerPiece),
  shrinkagePpm: z.strictObject({ along: z.int().min(0).max(900_000), across: z.int().min(0).max(900_000) }).nullable(),
  soldBy: length.min(1),
  priceMinorPerMetre: z.number().min(0).max(1e12).nullable(),
  currency: text.nullable(),
});

const garments = z.tuple([number, number]);

const piece = z.strictObject({
  id: name,
  size: text.nullable(),
  outline,
  onFold: z.boolean(),
  turn: z.boolean().nullable(),
  cross: z.boolean(),
  tiltMaxMicrodegrees: z.int().min(0).max(360_000_000),
  label: text,
  note: text.nullable(),
  grain: z.tuple([point, point]),
  seam: outline.nullable(),
  lines: z
    .array(z.strictObject({ kind: z.enum(['hem', 'dart', 'pleat', 'fold', 'inner', 'mark']), points }))
    .max(layLimits.marksPerPiece),
  notches: z.array(z.tuple([point, point])).max(layLimits.marksPerPiece),
  awl: z.array(point).max(layLimits.marksPerPiece),
  match: z
    .array(z.strictObject({ at: point, group: text, way: z.enum(['along', 'across', 'both']) }))
    .max(layLimits.marksPerPiece),
  demand: z.strictObject({ asDrawn: count, mirrored: count }).describe('For one garment'),
  garments: garments.optional().describe('Of several cut lists: first and last of the garments that it goes into'),
});

const foldDepth = z
  .number()
  .min(0)
  .max(coordinateMaxUm)
  .multipleOf(0.5)
  .describe('The middle of a cloth of odd width lies at half a micrometre');

const stretch = z.strictObject({
  id: number,
  from: length,
  to: length,
  method: z.enum(layMethods),
  folds: z.tuple([foldDepth, foldDepth]),
  foldX: length.optional().describe('Of a crosswise fold: where the fold lies'),
  cutX: length.optional().describe('Of cloth cut across and turned: where it is cut'),
  barAt: point.optional().describe('Where a bar of the repeat is taken to lie, when the cloth does not say'),
});

const placement = z.strictObject({
  n: number,
  stretch: number,
  piece: name,
  garment: number,
  copies: z.array(number).min(1).max(2),
  pinned: z.boolean(),
});

const copy = z.strictObject({
  n: number,
  is: z.enum(['asDrawn', 'mirrored']),
  mirror: z.boolean(),
  turned: z.literal([0, 90, 180, 270]),
  turnedOver: z.boolean(),
  tiltMicrodegrees: z.int().min(-90_000_000).max(90_000_000),
  at: point,
  outline,
});

const totals = z.strictObject({
  lengthUsed: length,
  buyParts: z.array(z.strictObject({ why: name, um: length })).max(20),
  buy: length,
  areaUm2: z.number().min(0).max(Number.MAX_SAFE_INTEGER),
  utilisationPpm: count,
  bound: z.strictObject({ um: length, why: text }),
});

/** The whole file. Every key not marked optional is required; unknown keys are faults. */
export const laySchema = z.strictObject({
  format: z.literal('shortlay-lay/1'),
  unit: z.literal('um'),
  title: text,
  cutListSha256: z
    .union([
      text,
      z
        .array(z.strictObject({ name, sha256: text, garments }))
        .min(2)
        .max(layLimits.cutLists),
    ])
    .describe('SHA-256 of the cut list in canonical form; of several cut lists each with its name and its garments'),
  selfHash: text.describe('SHA-256 of the canonical bytes of this file with selfHash ""'),
  material: name,
  status: z.enum(['proven shortest', 'shortest found', 'interrupted']),
  seed: z.int().min(0),
  effort: z.number().min(0).max(1e12),
  cloth,
  pieces: z.array(piece).min(1).max(layLimits.pieces),
  stretches: z.array(stretch).min(1).max(1_000),
  placements: z.array(placement).min(1).max(layLimits.placements),
  copies: z.array(copy).min(1).max(layLimits.copies),
  totals,
});

/** JSON Schema 2020-12 of the lay file, as the text of docs/lay-file.schema.json. */
export function laySchemaText(): string {
  const generated = z.toJSONSchema(laySchema) as Record<string, unknown>;
  const { $schema, ...rest } = generated;
  return `${JSON.stringify({ $schema, title: 'Shortlay lay file', ...rest }, null, 2)}\n`;
}
