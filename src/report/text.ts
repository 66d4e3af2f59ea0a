/**
 * The report as a dressmaker reads it in the terminal: what to buy first, then how it comes about, then what to mind.
 * Pure: the same answer gives the same bytes. Lines hold 80 letters unless a single name is longer.
 */
import { compareText, formatFault, sortFaults } from '../diagnostics/faults.js';
import type { Fault } from '../diagnostics/types.js';
import { leftOver } from '../lay/left-over.js';
import type { Lay } from '../lay/types.js';
import type { Candidate, MaterialPlan } from '../planning/types.js';
import { formatBuy, formatDecimal, formatLength, umPerUnit } from '../units/length.js';
import type { LengthUnit } from '../units/types.js';
import { cautions } from './cautions.js';
import { table, wrap, wrapAfter } from './columns.js';
import { costMinor, formatMoney, formatPrice } from './money.js';
import { type Outcome, outcomeOf } from './outcome.js';
import type { ReportFacts, ReportInput } from './types.js';
import {
  buyVerb,
  clothInWords,
  counted,
  garmentsByList,
  garmentsInWords,
  headlineOf,
  layInWords,
  napInWords,
  percent,
  repeatInWords,
  roundLength,
  sellingStep,
  statusInWords,
} from './words.js';

/** What every part of the report needs to know. */
interface Page {
  readonly units: LengthUnit;
  readonly width: number;
}

/** What belongs to the run rather than to the lay. */
interface Run {
  readonly files: readonly string[];
  readonly effort: number;
}

/**
 * The whole report, ending in a line feed.
 * @param width letters in a line, 80 where nothing else is known
 */
export function reportText(input: ReportInput, facts: Pick<ReportFacts, 'files'>, width = 80): string {
  const page: Page = { units: input.units, width };
  const lines = [...wrap(input.title, width), ''];
  input.plans.forEach((plan, index) => {
    const run: Run = { files: facts.files[index] ?? [], effort: plan.effort };
    lines.push(...planLines(plan, run, page), '');
    if (endsComparison(input.plans, index)) lines.push(...comparisonLines(input.plans, plan.material, page), '');
  });
  lines.push(...noticeLines(input, width));
  lines.push('Before you cut', ...cautions.flatMap((caution) => wrapAfter('  - ', caution, width)));
  return `${lines.join('\n')}\n`;
}

function planLines(plan: MaterialPlan, run: Run, page: Page): string[] {
  const outcome = outcomeOf(plan);
  const lines =
    outcome.lay === null ? noLayLines(plan, outcome, run, page) : layLines(plan, outcome.lay, outcome, run, page);
  return [...lines, ...methodLines(plan, page), ...helpLines(plan, page)];
}

/** What would make it fit, or save cloth. */
function helpLines({ chosen, wouldHelp }: MaterialPlan, { units, width }: Page): string[] {
  if (wouldHelp === null) return [];
  const what = chosen === null ? 'make it fit' : 'save cloth';
  if (wouldHelp.length === 0) return ['', ...wrap(`nothing that was tried would ${what}`, width)];
  const rows = wouldHelp.map(({ change, changesLook, lengthUm, buyUm }) => [
    formatLength(lengthUm, units),
    chosen === null ? formatLength(buyUm, units) : formatBuy(buyUm, units),
    changesLook ? `${change} (looks different)` : change,
  ]);
  const head = ['used', chosen === null ? 'takes' : 'to buy', `what would ${what}, each alone, after a short search`];
  return ['', ...table([head, ...rows], ['right', 'right', 'left'], 2, width)];
}

function layLines(plan: MaterialPlan, lay: Lay, outcome: Outcome, run: Run, page: Page): string[] {
  const { units, width } = page;
  return [
    ...wrap(headlineOf(lay, units), width),
    ...wrap(`for ${plan.material}${costInWords(lay, units)}`, width),
    '',
    ...buyTable(lay, page),
    '',
    ...factLines(plan, lay, outcome, run, page),
  ];
}

function costInWords({ cloth, totals }: Lay, units: LengthUnit): string {
  if (cloth.priceMinorPerMetre === null) return '';
  const cost = formatMoney(costMinor(totals.buy, cloth.priceMinorPerMetre), cloth.currency);
  return `; cost ${cost}, at ${formatPrice(cloth.priceMinorPerMetre, cloth.currency, units)}`;
}

/** Centimetres with two decimals, millimetres with one. */
function formatFine(um: number, units: 'cm' | 'mm' | 'in'): string {
  return units === 'mm' ? `${formatDecimal(um, umPerUnit.mm, 1)} mm` : `${formatDecimal(um, umPerUnit.cm, 2)} cm`;
}

/** To the tenth of a millimetre that `formatFine` shows. */
function seenTenth(um: number): number {
  const tenth = umPerUnit.mm / 10;
  return Math.round(um / tenth) * tenth;
}

/** How the buy length adds up, every addition a line of its own. */
function buyTable({ cloth, totals }: Lay, { units, width }: Page): string[] {
  // A tenth of a millimetre where whole ones do not add up to what is seen.
  const fine = units !== 'in' && totals.lengthUsed % umPerUnit.mm !== 0;
  const inSum = (um: number) => (fine ? formatFine(um, units) : formatLength(um, units));
  // What rounding each line by itself adds to the sum of what is seen.
  const surplus = fine
    ? [totals.lengthUsed, ...totals.buyParts.map(({ um }) => um)].reduce((sum, um) => sum + seenTenth(um) - um, 0)
    : 0;
  const rows = [
    ['', 'length used', inSum(totals.lengthUsed), ''],
    ...totals.buyParts.map(({ why, um }) => [
      '+',
      why,
      inSum(why === 'rounding up' ? Math.max(0, um - surplus) : um),
      partRemark(why),
    ]),
    ['=', `to ${buyVerb(cloth)}`, inSum(totals.buy), ''],
  ];
  return table(rows, ['left', 'left', 'right', 'left'], 2, width);

  function partRemark(why: string): string {
    if (why === 'rounding up') return `to the shop's ${sellingStep(cloth.soldBy, units)}`;
    if (why === 'reaching the first bar') return 'one repeat, since it is not known where its bars lie';
    if (why === 'before the first piece') return 'kept free by flaws or the repeat';
    if (why === 'shrinkage') return `washing takes ${percent(cloth.shrinkagePpm!.along / 10_000)} of the length`;
    if (why !== 'ends') return '';
    return `${formatLength(cloth.ends[0], units)} at the cut end, ${formatLength(cloth.ends[1], units)} at the far end`;
  }
}

function factLines(
  plan: MaterialPlan,
  lay: Lay,
  outcome: Outcome,
  { files, effort }: Run,
  { units, width }: Page,
): string[] {
  const { cloth, totals } = lay;
  const usable = formatLength(cloth.usable[1] - cloth.usable[0], units);
  const isAssumed = plan.notices.some(({ code }) => code === 'usable-assumed');
  const assumed = isAssumed ? ', assumed until you have measured it' : '';
  const used = totals.utilisationPpm / 10_000;
  const byList = garmentsByList(lay);
  const rows = [
    ['lay', layInWords(lay, units)],
    ...(cloth.fusible ? [['fusible', 'glue side up; it plays the right side']] : []),
    ['nap', napInWords(cloth.nap)],
    ...(cloth.repeat === null ? [] : [['repeat', repeatInWords(lay, units)]]),
    ['usable width', `${usable}${assumed}`],
    [
      'utilisation',
      `${percent(used)} of the usable ${usable} x ${formatLength(totals.lengthUsed, units)}; waste ${percent(100 - used)}`,
    ],
    ...keptRow(lay),
    ...leftOverRow(lay, units),
    ['bound', boundInWords(outcome, units)],
    ['status', statusInWords(outcome)],
    [
      'pieces',
      [
        counted(lay.placements.length, 'placement', 'placements'),
        counted(lay.copies.length, 'copy', 'copies'),
        ...(byList === null ? garmentsInWords(lay) : []),
      ].join(', '),
    ],
    ...(byList === null ? [] : garmentsInWords(lay).map((words, i) => [i === 0 ? 'for' : '', words])),
    ['checked', 'accepted by the independent check'],
    ['run', `effort ${effort}, seed ${lay.seed}`],
    ...files.map((file, index) => [index === 0 ? 'written' : '', file]),
  ];
  return table(rows, ['left', 'left'], 2, width);
}

/** What stays where it was pinned. */
function keptRow({ placements }: Lay): string[][] {
  const pinned = placements.filter((each) => each.pinned);
  if (pinned.length === 0) return [];
  const names = [...new Set(pinned.map(({ piece }) => piece))].join(', ');
  return [
    [
      'kept',
      `${counted(pinned.length, 'placement stays as it was pinned', 'placements stay as they were pinned')} (${names})`,
    ],
  ];
}

/** `34.0 x 112.0 cm`, along and across. */
function leftOverRow(lay: Lay, units: LengthUnit): string[][] {
  const left = leftOver(lay);
  if (left === null || left.along * left.across === 0) return [];
  const { along, across } = left;
  const [long, wide] = [along, across].map((um) => formatLength(Math.floor(um / umPerUnit.mm) * umPerUnit.mm, units));
  return [['left over', `${long} along x ${wide} across in one piece`]];
}

function boundInWords({ bound, gapPercent }: Outcome, units: LengthUnit): string {
  const shortest = `no lay of this kind can be shorter than ${formatLength(bound?.um ?? 0, units)} (${bound?.why ?? ''})`;
  return gapPercent === null ? shortest : `${shortest}; gap ${percent(gapPercent)}`;
}

function cannot({ material, candidates }: MaterialPlan, cloth: string): string {
  return candidates.length === 0
    ? `no lay method serves for ${material} on ${cloth}`
    : `${material} does not fit on ${cloth}`;
}

/** Plainly: there is no lay, whether that is certain, and why. */
function noLayLines(plan: MaterialPlan, outcome: Outcome, { effort }: Run, { units, width }: Page): string[] {
  const cloth = clothInWords(plan.cloth.cloth, units);
  if (outcome.status === 'interrupted') {
    return wrap(`no lay yet for ${plan.material} on ${cloth}: ${statusInWords(outcome)}`, width);
  }
  const certainty = outcome.fitProven === true ? 'proven' : `not proven: effort ${effort} found no lay that fits`;
  const reasons = plan.notices.filter(({ severity }) => severity === 'warning');
  const why = reasons.length > 0 ? reasons.map(reasonInWords) : [boundReason(plan, outcome, units)];
  const fixes = new Set(reasons.map(({ fix }) => fix));
  // Where a method tells of itself why nothing was found, it also tells what to do.
  const isTold = plan.candidates.every((tried) => plan.refused.some(({ method }) => method === tried.method));
  if (outcome.fitProven !== true && !isTold) fixes.add('give it more --effort, or more cloth');
  return [
    ...wrap(cannot(plan, cloth), width),
    ...wrapAfter('  ', certainty, width),
    ...why.flatMap((reason) => wrapAfter('  - ', reason, width)),
    ...[...fixes].flatMap((fix) => wrapAfter('  fix: ', fix, width)),
  ];
}

function reasonInWords({ subject, what }: Fault): string {
  return subject === null ? what : `${subject}: ${what}`;
}

function boundReason({ roomUm: room, candidates }: MaterialPlan, { bound }: Outcome, units: LengthUnit): string {
  if (bound === null) return 'no lay method is allowed here, see below';
  const need = `no lay can be shorter than ${formatLength(bound.um, units)} (${bound.why})`;
  if (room === null) return need;
  if (room <= 0) return `${need}; its ends leave nothing of the cloth`;
  const has = `between its ends the cloth has ${formatLength(room, units)}`;
  const found = candidates.flatMap(({ lengthFoundUm }) => lengthFoundUm ?? []);
  if (found.length === 0 || bound.um > room) return `${need}; ${has}`;
  const least = Math.min(...found);
  return `the shortest lay found uses ${formatLength(least, units)}; ${has}, ${formatLength(least - room, units)} too little (${need})`;
}

/** The lay methods side by side, when there is more than one to tell of. */
function methodLines({ candidates, chosen, refused }: MaterialPlan, { units, width }: Page): string[] {
  if (candidates.length + refused.length < 2 && refused.length === 0) return [];
  const rows = [
    ['lay method', 'length used', 'buy', ''],
    ...candidates.map((candidate) => candidateRow(candidate, chosen, units)),
  ];
  const isTried = (tried: string) => candidates.some(({ method }) => method === tried);
  return [
    '',
    ...(candidates.length === 0 ? [] : table(rows, ['left', 'right', 'right', 'left'], 2, width)),
    ...refused.flatMap(({ method, why }) =>
      wrapAfter('  ', `${method}${isTried(method) ? '' : ' not allowed'}: ${why}`, width),
    ),
  ];
}

function candidateRow(candidate: Candidate, chosen: Candidate | null, units: LengthUnit): string[] {
  const { method, lay, status, fitProven } = candidate;
  if (lay === null) {
    const why =
      status === 'interrupted' ? 'interrupted' : fitProven === true ? 'does not fit' : 'no lay found that fits';
    return [method, '-', '-', why];
  }
  const { lengthUsed, buy } = lay.totals;
  // Of lays that need as much the simplest is taken; she may prefer the other.
  const asMuch = buy === chosen?.lay?.totals.buy ? `as much: --method "${method}" takes it` : '';
  const remark = candidate === chosen ? 'this lay' : asMuch;
  return [method, formatLength(lengthUsed, units), formatBuy(buy, units), remark];
}

/** True at the last of several cloths for one material. */
function endsComparison(plans: readonly MaterialPlan[], index: number): boolean {
  const material = plans[index]!.material;
  const same = plans.filter((plan) => plan.material === material);
  return same.length > 1 && same.at(-1) === plans[index];
}

function comparisonLines(plans: readonly MaterialPlan[], material: string, { units, width }: Page): string[] {
  const rows = plans
    .filter((plan) => plan.material === material)
    .map((plan) => {
      const { cloth } = plan.cloth;
      const lay = outcomeOf(plan).lay;
      const wide = roundLength(cloth.width, units);
      if (lay === null) return [cloth.name, wide, '-', '-', outcomeOf(plan).status];
      const price = cloth.priceMinorPerMetre;
      const cost = price === null ? '-' : formatMoney(costMinor(lay.totals.buy, price), cloth.currency);
      return [cloth.name, wide, formatBuy(lay.totals.buy, units), cost, ''];
    });
  const head = ['cloth', 'width', 'buy', 'cost', ''];
  return [
    `${material}, the cloths compared`,
    ...table([head, ...rows], ['left', 'right', 'right', 'right', 'left'], 2, width),
  ];
}

/** Every notice once, wherever it was raised. */
export function noticeLines(input: Pick<ReportInput, 'notices' | 'plans'>, width: number): string[] {
  const notices = allNotices(input);
  if (notices.length === 0) return [];
  const lines = notices.flatMap((fault) => {
    const [what = '', fix = ''] = formatFault(fault).split('\n');
    return [...wrapAfter('  - ', what, width), ...wrapAfter('    ', fix.trim(), width)];
  });
  return ['Notices', ...lines, ''];
}

/** Notices and warnings of the file and of every plan, sorted, each once. */
export function allNotices({ notices, plans }: Pick<ReportInput, 'notices' | 'plans'>): Fault[] {
  const sorted = sortFaults([...notices, ...plans.flatMap((plan) => plan.notices)]);
  return sorted.filter(
    (fault, index) => index === 0 || compareText(formatFault(sorted[index - 1]!), formatFault(fault)) !== 0,
  );
}
