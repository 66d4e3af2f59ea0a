/** Reading drawings in tests with arithmetic of their own: boxes of texts, a strict little XML reader. */
import type { Item, Page, PagePoint, TextItem } from '../../src/marker/types.js';

export interface TextBox {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** From the baseline: capitals of DejaVu Sans are 0.729 em high, descenders 0.236 em deep (its own tables). */
export function textBox(item: TextItem): TextBox {
  const em = (item.sizePt * 25.4) / 72;
  const start = { start: 0, middle: -item.widthMm / 2, end: -item.widthMm }[item.anchor];
  const [x, y] = item.at;
  const box =
    item.angle === 0
      ? { left: x + start, right: x + start + item.widthMm, top: y - 0.729 * em, bottom: y + 0.236 * em }
      : { left: x - 0.729 * em, right: x + 0.236 * em, top: y - start - item.widthMm, bottom: y - start };
  return { text: item.text, ...box };
}

export function itemsOf(page: Page): readonly Item[] {
  return page.groups.flatMap(({ items }) => items);
}

export function textsOf(page: Page): readonly TextItem[] {
  return itemsOf(page).filter((item) => item.type === 'text');
}

export interface Element {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: Element[];
  text: string;
}

/** Reads a document without comments and CDATA; throws on anything that is not well formed. */
export function readXml(source: string): Element {
  const root: Element = { name: '', attributes: new Map(), children: [], text: '' };
  const open = [root];
  const body = source.replace(/^<\?xml version="1\.0" encoding="UTF-8"\?>\n/, '');
  const token = /<(\/?)([a-z]\w*)((?:\s+[\w:-]+="[^"<&]*(?:&(?:amp|lt|gt|quot);[^"<&]*)*")*)\s*(\/?)>|([^<]+)/gy;
  let at = 0;
  for (let match = token.exec(body); match !== null; match = token.exec(body)) {
    at = token.lastIndex;
    const [, closing, name, attributes = '', empty, text] = match;
    if (text !== undefined) {
      if (/&(?!(amp|lt|gt|quot);)/.test(text)) throw new Error(`bare ampersand in ${text}`);
      open.at(-1)!.text += plain(text);
    } else if (closing === '/') {
      if (open.pop()?.name !== name) throw new Error(`unexpected </${name}>`);
    } else {
      const pairs = [...attributes.matchAll(/([\w:-]+)="([^"]*)"/g)].map(
        ([, key, value]) => [key!, plain(value!)] as const,
      );
      const element: Element = { name: name!, attributes: new Map(pairs), children: [], text: '' };
      if (element.attributes.size !== pairs.length) throw new Error(`an attribute of ${name} stands twice`);
      open.at(-1)!.children.push(element);
      if (empty !== '/') open.push(element);
    }
  }
  if (at !== body.length) throw new Error(`not well formed near ${body.slice(at, at + 60)}`);
  if (open.length !== 1 || root.children.length !== 1) throw new Error('not one whole element');
  return root.children[0]!;
}

function plain(text: string): string {
  return text
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, '&');
}

export function descendants(element: Element): readonly Element[] {
  return [element, ...element.children.flatMap(descendants)];
}

/** `M1 2L3 4Z` -> points. */
export function pathPoints(data: string): readonly PagePoint[] {
  return [...data.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const);
}
