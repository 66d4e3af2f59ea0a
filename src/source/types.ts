/** A file's text as a tree in which every key and value knows where it stands. */
import type { Place } from '../diagnostics/types.js';

export interface ScalarNode {
  readonly kind: 'scalar';
  readonly place: Place;
  /** As written, so that numbers can be read digit by digit; quotes taken off. */
  readonly text: string;
  /** Written in quotes, so it is text even where it looks like a number. */
  readonly quoted: boolean;
}

export interface ListNode {
  readonly kind: 'list';
  readonly place: Place;
  readonly items: readonly SourceNode[];
}

export interface MapEntry {
  readonly key: string;
  readonly keyPlace: Place;
  readonly value: SourceNode;
}

export interface MapNode {
  readonly kind: 'map';
  readonly place: Place;
  /** In file order; no key stands twice. */
  readonly entries: readonly MapEntry[];
}

/** A key without a value, `null` or `~`. */
export interface EmptyNode {
  readonly kind: 'empty';
  readonly place: Place;
}

export type SourceNode = ScalarNode | ListNode | MapNode | EmptyNode;
