/** Makes a scene smaller while it goes on showing the same violation: steps, options, keys, entries, lines, signs. */
import { parse } from 'yaml';
import { type JudgeOptions, judgeScene } from './judge.js';
import type { Scene, Step, Violation } from './scene.js';
import { signatureOf } from './scene.js';

/** So many scenes are tried, or so long. */
const triesMost = 250;
const millisecondsMost = 90_000;

/** The smallest scene that was found for a violation. */
export async function shrink(found: Violation, options: Omit<JudgeOptions, 'tally'>): Promise<Violation> {
  const wanted = signatureOf(found);
  const until = Date.now() + millisecondsMost;
  let best = found;
  let tries = 0;
  const isSpent = () => tries >= triesMost || Date.now() > until;
  const attempt = async (scene: Scene): Promise<boolean> => {
    tries += 1;
    const violations = await judgeScene(scene, { ...options, tally: new Map() });
    const same = violations.find((violation) => signatureOf(violation) === wanted);
    if (same !== undefined) best = same;
    return same !== undefined;
  };
  for (let isSmaller = true; isSmaller && !isSpent(); ) {
    isSmaller = false;
    for (const scene of smallerScenes(best.scene)) {
      if (isSpent()) break;
      if (await attempt(scene)) {
        isSmaller = true;
        break;
      }
    }
  }
  return best;
}

/** Scenes with a little less, the greatest steps first. */
function* smallerScenes({ files, steps }: Scene): Generator<Scene> {
  for (const i of steps.keys()) if (steps.length > 1) yield { files, steps: steps.filter((_, j) => j !== i) };
  for (const path of files.keys()) {
    if (files.size === 1) break;
    const fewer = new Map(files);
    fewer.delete(path);
    yield { files: fewer, steps };
  }
  for (const [path, bytes] of files) {
    for (const smaller of smallerTexts(Buffer.from(bytes))) yield { files: new Map(files).set(path, smaller), steps };
  }
  for (const [i, step] of steps.entries())
    for (const less of smallerSteps(step)) yield { files, steps: steps.with(i, less) };
}

function* smallerSteps(step: Step): Generator<Step> {
  if (step.do !== 'run') return;
  if (step.as === 'both') yield { ...step, as: 'memory' };
  for (let i = 2; i < step.words.length; i++) {
    if (!step.words[i]!.startsWith('--') || /^--(what|keep|out)$/.test(step.words[i]!)) continue;
    const isPair = step.words[i + 1] !== undefined && !step.words[i + 1]!.startsWith('--');
    yield { ...step, words: step.words.toSpliced(i, isPair ? 2 : 1) };
  }
}

function* smallerTexts(bytes: Buffer): Generator<Buffer> {
  const text = bytes.toString('utf8');
  const tree = Buffer.from(text, 'utf8').equals(bytes) ? treeOf(text) : null;
  if (tree !== null) for (const smaller of smallerTrees(tree)) yield Buffer.from(layText(smaller), 'utf8');
  const lines = text.split('\n');
  for (let size = lines.length >> 1; size >= 1; size >>= 1) {
    for (let from = 0; from < lines.length && lines.length > 1; from += size)
      yield Buffer.from(lines.toSpliced(from, size).join('\n'), 'utf8');
  }
  for (let size = bytes.length >> 1; size >= 8; size >>= 1) {
    for (let from = 0; from < bytes.length; from += size)
      yield Buffer.concat([bytes.subarray(0, from), bytes.subarray(from + size)]);
  }
}

type Tree = { readonly [key: string]: unknown } | readonly unknown[];

function isTree(value: unknown): value is Tree {
  return typeof value === 'object' && value !== null;
}

/** Only where nothing is lost by reading and writing it. */
function treeOf(text: string): Tree | null {
  if (text.length > 200_000) return null;
  try {
    const value: unknown = parse(text, { schema: 'core', maxAliasCount: 0, logLevel: 'silent' });
    return isTree(value) ? value : null;
  } catch {
    return null;
  }
}

function layText(tree: Tree): string {
  return `${JSON.stringify(tree, null, 1)}\n`;
}

/** The tree without one of its branches, those nearest to the root first. */
function* smallerTrees(tree: Tree): Generator<Tree> {
  for (let depth = 1; depth <= 5; depth++) yield* withoutOne(tree, depth);
}

function* withoutOne(tree: Tree, depth: number): Generator<Tree> {
  for (const [key, value] of Object.entries(tree)) {
    if (depth === 1) {
      if (Array.isArray(tree)) yield tree.filter((_, i) => String(i) !== key);
      else yield Object.fromEntries(Object.entries(tree).filter(([other]) => other !== key));
    } else if (isTree(value)) {
      for (const less of withoutOne(value, depth - 1)) {
        if (Array.isArray(tree)) yield tree.map((one, i) => (String(i) === key ? less : one));
        else yield { ...tree, [key]: less };
      }
    }
  }
}
