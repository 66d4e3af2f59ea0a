/**
 * Whole numbers that everything else is measured in.
 *
 * A length is a whole number of micrometres in a plain `number`; names carry the unit (`widthUm`).
 * No coordinate passes 47 453 132 um (47.4 m), so every difference stays below 2^26 and a cross
 * product of two differences is exact in a double.
 */
export type Um = number;

/** A point [x, y] in whole micrometres. Which frame it lives in is said where it is declared. */
export type Point = readonly [Um, Um];

/** A closed ring; the closing point is not repeated. */
export type Outline = readonly Point[];

/** Units a file or a report may speak. */
export type LengthUnit = 'cm' | 'mm' | 'in';

/** Largest coordinate that keeps cross products exact (and the clipping library in its quick lane). */
export const coordinateMaxUm: Um = 47_453_132;
