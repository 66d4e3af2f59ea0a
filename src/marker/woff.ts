/**
 * WOFF 1.0 -> the plain font inside it (W3C Recommendation "WOFF File Format 1.0", 2012, sections 3 to 5): the same
 * tables, each inflated once. The PDF library inflates a table anew for every glyph it looks at, which took seconds.
 */
import { inflateSync } from 'node:zlib';
import { assert } from '../diagnostics/assert.js';

const headerBytes = 44;
const entryBytes = 20;

/** The font as an sfnt file (TrueType or OpenType). */
export function unpackWoff(woff: Uint8Array): Uint8Array {
  const source = new DataView(woff.buffer, woff.byteOffset, woff.byteLength);
  assert(source.getUint32(0) === 0x774f4646, 'the font file begins with "wOFF"');
  const count = source.getUint16(12);
  const tables = Array.from({ length: count }, (_, i) => {
    const entry = headerBytes + i * entryBytes;
    const [start, packed, length] = [4, 8, 12].map((at) => source.getUint32(entry + at)) as [number, number, number];
    const bytes = woff.subarray(start, start + packed);
    const checksum = source.getUint32(entry + 16);
    return { tag: source.getUint32(entry), checksum, bytes: packed < length ? inflateSync(bytes) : bytes };
  });
  const padded = (length: number) => Math.ceil(length / 4) * 4;
  const directoryBytes = 12 + 16 * count;
  const font = new Uint8Array(tables.reduce((sum, { bytes }) => sum + padded(bytes.length), directoryBytes));
  const target = new DataView(font.buffer);
  // Search range, entry selector and range shift help a binary search over the tables.
  const selector = Math.floor(Math.log2(count));
  target.setUint32(0, source.getUint32(4));
  target.setUint16(4, count);
  target.setUint16(6, 16 << selector);
  target.setUint16(8, selector);
  target.setUint16(10, 16 * count - (16 << selector));
  let at = directoryBytes;
  tables.forEach(({ tag, checksum, bytes }, i) => {
    const entry = 12 + 16 * i;
    [tag, checksum, at, bytes.length].forEach((value, k) => {
      target.setUint32(entry + 4 * k, value);
    });
    font.set(bytes, at);
    at += padded(bytes.length);
  });
  return font;
}
