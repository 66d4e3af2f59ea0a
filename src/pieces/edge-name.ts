import type { Corner } from './types.js';

/** `C-D`, by the labels of its corners. */
export function edgeName({ corners }: { readonly corners: readonly Pick<Corner, 'label'>[] }, edge: number): string {
  return `${corners[edge]!.label}-${corners[(edge + 1) % corners.length]!.label}`;
}
