/** A scene of the fuzz: files in a folder and what is done with them. One JSON file holds a scene, so that it can be replayed. */

export type Files = ReadonlyMap<string, Uint8Array>;

/** The program is run. */
export interface RunStep {
  readonly do: 'run';
  /** `@lay` is the first lay file there is; without one the step is left out. */
  readonly words: readonly string[];
  /** In this process, as a process of its own, or both with the same outcome. */
  readonly as: 'memory' | 'process' | 'both';
  /** Ctrl-C after so many milliseconds (only as a process). */
  readonly interruptMs?: number;
  /** Why the answer must be a refusal; left out where nobody knows beforehand. */
  readonly refusedFor?: string;
}

/** Some placements of the first lay are pinned and the lay is kept as `pinned.lay.json`. */
export interface PinStep {
  readonly do: 'pin';
  readonly dice: number;
}

/** Damages the first lay, once for each number of the dice, and has each damaged lay checked. */
export interface DamageStep {
  readonly do: 'damage';
  readonly dice: readonly number[];
  readonly cutLists: readonly string[];
}

export type Step = RunStep | PinStep | DamageStep;

export interface Scene {
  readonly files: Files;
  readonly steps: readonly Step[];
}

/** What must not be, and the scene that shows it. */
export interface Violation {
  readonly kind: string;
  readonly what: string;
  readonly scene: Scene;
}

/** Two violations with equal signatures are taken for the same. */
export function signatureOf({ kind, what }: Pick<Violation, 'kind' | 'what'>): string {
  const plain = what.replace(/"[^"]*"/g, '""').replace(/-?\d+(\.\d+)?(e[+-]?\d+)?/g, '#');
  return `${kind}: ${plain.slice(0, 200)}`;
}

interface Written {
  readonly violated: string;
  readonly files: Readonly<Record<string, string | { readonly base64: string }>>;
  readonly steps: readonly Step[];
}

/** The text of a regression file. */
export function writeViolation({ kind, what, scene }: Violation): string {
  const files = Object.fromEntries([...scene.files].map(([path, bytes]) => [path, asText(bytes)]));
  const written: Written = { violated: `${kind}: ${what}`, files, steps: scene.steps };
  return `${JSON.stringify(written, null, 1)}\n`;
}

function asText(bytes: Uint8Array): string | { readonly base64: string } {
  const buffer = Buffer.from(bytes);
  const text = buffer.toString('utf8');
  return Buffer.from(text, 'utf8').equals(buffer) ? text : { base64: buffer.toString('base64') };
}

/** The scene of a regression file. */
export function readScene(text: string): Scene {
  const { files, steps } = JSON.parse(text) as Written;
  const entries = Object.entries(files).map(([path, content]): [string, Uint8Array] => [
    path,
    typeof content === 'string' ? Buffer.from(content, 'utf8') : Buffer.from(content.base64, 'base64'),
  ]);
  return { files: new Map(entries), steps };
}

/** Files of a scene from their texts. */
export function filesOf(texts: Readonly<Record<string, string>>): Map<string, Uint8Array> {
  return new Map(Object.entries(texts).map(([path, text]) => [path, Buffer.from(text, 'utf8')]));
}
