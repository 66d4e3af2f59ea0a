/**
 * Two polygon libraries for general use, made by different people by different methods, asked the same questions:
 * @flatten-js/core (faces and edges, with a tolerance) and jsts (a planar graph of both outlines). Neither is used by the
 * product. Both calculate in doubles; outlines are handed over as they are, in whole micrometres.
 */
import Flatten from '@flatten-js/core';
import Coordinate from 'jsts/org/locationtech/jts/geom/Coordinate.js';
import GeometryFactory from 'jsts/org/locationtech/jts/geom/GeometryFactory.js';
import DistanceOp from 'jsts/org/locationtech/jts/operation/distance/DistanceOp.js';
import OverlayOp from 'jsts/org/locationtech/jts/operation/overlay/OverlayOp.js';
import type { Outline } from '../../src/units/types.js';

/** What a library measures of the outlines that it was given, by their place in the list. */
export interface Measures {
  /** In square micrometres. */
  area(i: number): number;
  /** Area of what two outlines have in common, in square micrometres. */
  common(i: number, j: number): number;
  /** Distance of two outlines in micrometres; 0 when they touch. */
  apart(i: number, j: number): number;
}

export interface Library {
  readonly name: string;
  measure(outlines: readonly Outline[]): Measures;
}

const flatten: Library = {
  name: '@flatten-js/core',
  measure(outlines) {
    const polygons = outlines.map((outline) => new Flatten.Polygon(outline.map(([x, y]): [number, number] => [x, y])));
    return {
      area: (i) => polygons[i]!.area(),
      common: (i, j) => Flatten.BooleanOperations.intersect(polygons[i]!, polygons[j]!).area(),
      apart: (i, j) => polygons[i]!.distanceTo(polygons[j]!)[0],
    };
  },
};

const jsts: Library = {
  name: 'jsts',
  measure(outlines) {
    const factory = new GeometryFactory();
    const polygons = outlines.map((outline) => {
      const corners = [...outline, outline[0]!].map(([x, y]) => new Coordinate(x, y));
      return factory.createPolygon(factory.createLinearRing(corners));
    });
    return {
      area: (i) => polygons[i].getArea(),
      common: (i, j) => OverlayOp.overlayOp(polygons[i], polygons[j], OverlayOp.INTERSECTION).getArea(),
      apart: (i, j) => DistanceOp.distance(polygons[i], polygons[j]),
    };
  },
};

export const libraries = [flatten, jsts] as const;
