/** Planning in a test: everything as the file says, in the same thread, without a clock. */
import { sameThreadExecutor } from '../../src/engine/same-thread.js';
import { type PlanAnswer, type PlanOptions, type PlanTools, planCutList } from '../../src/index.js';

export const plainOptions: PlanOptions = {
  material: null,
  cloth: null,
  widthsUm: null,
  lengthUm: null,
  nap: null,
  method: null,
  effort: 0.25,
  seconds: null,
  seed: 1,
  page: 'a4',
  garments: 1,
  advise: false,
  tidies: false,
};

export function plainTools(changed: Partial<PlanTools> = {}): PlanTools {
  return {
    executor: sameThreadExecutor(),
    clock: () => 0,
    interrupted: () => false,
    onProgress: () => undefined,
    ...changed,
  };
}

export type Planned = Extract<PlanAnswer, { kind: 'planned' }>;

/** Plans a text that is expected to be without faults. */
export async function planText(
  text: string,
  options: Partial<PlanOptions> = {},
  tools: Partial<PlanTools> = {},
): Promise<Planned> {
  const answer = await planCutList('list.yaml', text, { ...plainOptions, ...options }, plainTools(tools));
  if (answer.kind === 'faults') throw new Error(answer.faults.map(({ what }) => what).join('\n'));
  return answer;
}
