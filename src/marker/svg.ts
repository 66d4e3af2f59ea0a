/**
 * Drawing -> SVG 1.1 text in millimetres, the pages one beneath the other. Every text carries its measured length, so
 * that nothing overlaps where DejaVu Sans is missing and another face stands in.
 */
import { lineStyles } from './line-styles.js';
import { mmPerPt } from './text.js';
import type { Drawing, Item, ItemGroup, LineStyles, Page, PagePoint } from './types.js';

const pageGapMm = 6;

/** One SVG document; UTF-8, LF, three decimals at most, the same bytes for the same drawing. */
export function toSvg(drawing: Drawing): string {
  const widthMm = Math.max(...drawing.pages.map((page) => page.widthMm));
  const heightMm = drawing.pages.reduce((sum, page) => sum + page.heightMm + pageGapMm, -pageGapMm);
  let top = 0;
  const pages = drawing.pages.map((page) => {
    const text = pageText(page, top, drawing.styles ?? lineStyles);
    top += page.heightMm + pageGapMm;
    return text;
  });
  const [width, height] = [digits(widthMm), digits(heightMm)];
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" xml:lang="en" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}" font-family="'DejaVu Sans', sans-serif" style="font-kerning: none; font-variant-ligatures: none" fill="none" stroke-linejoin="round">`,
    `<title>${escapeText(drawing.title)}</title>`,
    ...pages,
    '</svg>',
    '',
  ].join('\n');
}

function pageText(page: Page, top: number, styles: LineStyles): string {
  const shift = top === 0 ? '' : ` transform="translate(0 ${digits(top)})"`;
  return [
    `<g${shift}>`,
    `<rect width="${digits(page.widthMm)}" height="${digits(page.heightMm)}" fill="#ffffff"/>`,
    ...page.groups.map((group) => groupText(group, styles)),
    '</g>',
  ].join('\n');
}

function groupText(group: ItemGroup, styles: LineStyles): string {
  const id = group.placement === null ? '' : ` id="placement-${group.placement}"`;
  const title = group.title === null ? [] : [`<title>${escapeText(group.title)}</title>`];
  const inside = [...title, ...group.items.map((item) => itemText(item, styles))];
  if (group.clip === undefined) return [`<g${id}>`, ...inside, '</g>'].join('\n');
  // An inner picture shows nothing beyond its edges.
  const { left, top, right, bottom } = group.clip;
  const [x, y, wide, high] = [left, top, right - left, bottom - top].map(digits);
  const frame = `x="${x}" y="${y}" width="${wide}" height="${high}" viewBox="${x} ${y} ${wide} ${high}"`;
  return [`<svg${id} ${frame}>`, ...inside, '</svg>'].join('\n');
}

function itemText(item: Item, styles: LineStyles): string {
  switch (item.type) {
    case 'area':
      return `<path d="${pathText(item.points, true)}" fill="${greyText(item.grey)}"/>`;
    case 'line': {
      const { widthMm, dashMm, grey } = styles[item.kind];
      const dash = dashMm.length === 0 ? '' : ` stroke-dasharray="${dashMm.map(digits).join(' ')}"`;
      const kind = item.kind.replace(/ /g, '-');
      return `<path class="${kind}" d="${pathText(item.points, item.closed)}" stroke="${greyText(grey)}" stroke-width="${digits(widthMm)}"${dash}/>`;
    }
    case 'text': {
      const [x, y] = item.at.map(digits);
      const place = item.angle === 0 ? `x="${x}" y="${y}"` : `transform="translate(${x} ${y}) rotate(${item.angle})"`;
      const anchor = item.anchor === 'start' ? '' : ` text-anchor="${item.anchor}"`;
      const weight = item.bold ? ' font-weight="700"' : '';
      const length = ` textLength="${digits(item.widthMm)}" lengthAdjust="spacingAndGlyphs"`;
      const size = digits(item.sizePt * mmPerPt);
      return `<text ${place} font-size="${size}"${anchor}${weight}${length} fill="${greyText(item.grey)}" xml:space="preserve">${escapeText(item.text)}</text>`;
    }
  }
}

function pathText(points: readonly PagePoint[], closed: boolean): string {
  const text = points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${digits(x)} ${digits(y)}`).join('');
  return closed ? `${text}Z` : text;
}

/** Thousandths of a millimetre, never in exponents, never minus zero. */
function digits(value: number): string {
  return String(Math.round(value * 1000) / 1000 + 0);
}

function greyText(grey: number): string {
  const pair = Math.round(grey * 255)
    .toString(16)
    .padStart(2, '0');
  return `#${pair}${pair}${pair}`;
}

function escapeText(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
}
