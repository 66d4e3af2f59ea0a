/**
 * XML text -> a small tree. Home of saxes, which never expands an entity of the document's own and never fetches
 * anything; what is named in a file is text here, no more.
 */
import { SaxesParser } from 'saxes';
import { drawingLimits } from './limits.js';

export interface XmlNode {
  /** Without its namespace prefix. */
  readonly name: string;
  /** By name without prefix; of two alike the first. */
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: XmlNode[];
  readonly line: number;
  readonly column: number;
}

export interface XmlProblem {
  readonly problem: string;
  readonly line: number;
  readonly column: number;
}

const { characters: charactersMax, elements: nodesMax, depth: depthMax } = drawingLimits;

/** The root element, or the first thing that is wrong with the text. */
export function readXmlTree(text: string): XmlNode | XmlProblem {
  if (text.length > charactersMax) {
    return { problem: `it has ${text.length} characters, at most ${charactersMax} are read`, line: 1, column: 1 };
  }
  if (text.trim() === '') return { problem: 'it holds nothing', line: 1, column: 1 };
  const parser = new SaxesParser({ xmlns: true, position: true });
  let root: XmlNode | null = null;
  let problem: XmlProblem | null = null;
  let nodes = 0;
  const open: XmlNode[] = [];
  const refuse = (what: string): void => {
    problem ??= { problem: what, line: parser.line, column: parser.column + 1 };
  };
  parser.on('error', (error) => refuse(error.message.replace(/^\d+:\d+: /, '').replace(/\.$/, '')));
  parser.on('opentag', (tag) => {
    nodes++;
    if (nodes > nodesMax) refuse(`it has more than ${nodesMax} elements`);
    if (open.length >= depthMax) refuse(`its elements are nested more than ${depthMax} deep`);
    if (problem !== null) return;
    const attributes = new Map<string, string>();
    for (const { local, value } of Object.values(tag.attributes)) {
      if (!attributes.has(local)) attributes.set(local, value);
    }
    const node: XmlNode = { name: tag.local, attributes, children: [], line: parser.line, column: parser.column + 1 };
    open.at(-1)?.children.push(node);
    root ??= node;
    open.push(node);
  });
  parser.on('closetag', () => {
    if (problem === null) open.pop();
  });
  // In pieces, so that a hopeless file is given up early.
  const step = 65_536;
  for (let at = 0; at < text.length && problem === null; at += step) parser.write(text.slice(at, at + step));
  if (problem === null) parser.close();
  return problem ?? root ?? { problem: 'it holds no element', line: 1, column: 1 };
}
