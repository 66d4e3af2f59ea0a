/** What a case asks for, read off its files and words without running it: the tally of the mixture. */
import { parse } from 'yaml';
import { isMap } from './cut-lists.js';
import type { Files, RunStep, Scene } from './scene.js';

/** What the plans of a case ask for; empty when it has none. */
export function askedOf({ files, steps }: Scene): ReadonlySet<string> {
  const plans = steps.filter((step): step is RunStep => step.do === 'run' && step.words[0] === 'plan');
  return new Set(plans.flatMap((plan) => [...ofWords(plan), ...ofLists(files, plan)]));
}

function ofWords({ words, as, interruptMs }: RunStep): string[] {
  const lists = words.filter((word) => /^[^-].*\.yaml(=\d+)?$/.test(word));
  const asked = ['plan', ...words.filter((word) => word.startsWith('--'))];
  if (lists.length > 1) asked.push('several lists');
  if (words.some((word) => /=\d+$/.test(word) || word === '--garments')) asked.push('several garments');
  if (as !== 'memory') asked.push('a process');
  if (interruptMs !== undefined) asked.push('Ctrl-C');
  const method = words[words.indexOf('--method') + 1];
  return words.includes('--method') ? [...asked, `method ${method?.replaceAll('-', ' ')}`] : asked;
}

function ofLists(files: Files, { words }: RunStep): string[] {
  const named = words.map((word) => files.get(word.replace(/=\d+$/, ''))).filter((bytes) => bytes !== undefined);
  return named.flatMap((bytes) => {
    const list = treeOf(Buffer.from(bytes).toString('utf8'));
    const cloths = branchesOf(list, 'cloths').flatMap((cloth) => ofCloth(cloth, words.includes('--method')));
    const pieces = branchesOf(list, 'pieces').flatMap((piece) => Object.keys(piece).map((key) => `piece: ${key}`));
    return [...cloths, ...pieces, ...(isMap(list) && list.seams !== undefined ? ['seams'] : [])];
  });
}

function ofCloth(cloth: Record<string, unknown>, isMethodAsked: boolean): string[] {
  const { faces, grain, fusible, repeat, length, method = 'best' } = cloth;
  const asked = Object.keys(cloth).map((key) => `cloth: ${key}`);
  if (!isMethodAsked) asked.push(`method ${String(method)}`);
  if (faces === 'both') asked.push('both faces');
  if (grain === 'free') asked.push('free grain');
  if (fusible === 'yes') asked.push('fusible');
  if (isMap(repeat) && repeat.drop !== undefined) asked.push('drop');
  if (Array.isArray(length)) asked.push('remnants');
  return asked;
}

function branchesOf(list: unknown, key: string): Record<string, unknown>[] {
  const branches = isMap(list) ? list[key] : null;
  return isMap(branches) ? Object.values(branches).filter(isMap) : [];
}

/** Spoilt texts ask for nothing that could be named, and the longest take long to read. */
const charactersMost = 20_000;

function treeOf(text: string): unknown {
  if (text.length > charactersMost) return null;
  try {
    return parse(text, { schema: 'core', maxAliasCount: 0, logLevel: 'silent' });
  } catch {
    return null;
  }
}
