/** Bytes -> text, refusing what is not UTF-8. */
import { makeFault } from '../diagnostics/faults.js';
import type { Result } from '../diagnostics/types.js';

/**
 * Text of a drawing. DXF of older versions is written in the code page of its machine: what is not UTF-8 is read as
 * Windows-1252, where every byte has a letter. Only names can come out wrong; numbers are plain ASCII.
 */
export function decodeDrawing(bytes: Uint8Array, file: string): Result<string> {
  const decoded = decodeUtf8(bytes, file);
  if (decoded.ok || !/\.dxf$/i.test(file)) return decoded;
  return { ok: true, value: new TextDecoder('windows-1252').decode(bytes) };
}

/** Text of a UTF-8 file (a byte order mark stays, the readers skip it), or a fault that names the first bad byte. */
export function decodeUtf8(bytes: Uint8Array, file: string): Result<string> {
  try {
    return { ok: true, value: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    const what = 'the file is not UTF-8 text';
    const fix = 'save it as UTF-8 in a text editor; a picture or a word-processor file cannot be read';
    return { ok: false, faults: [makeFault('not-utf-8', { file, line: 1, column: 1 }, null, what, fix)] };
  }
}
