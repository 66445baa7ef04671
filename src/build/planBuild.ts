import type { Issue } from '../base';
import { ringArea } from '../math';
import type {
  BuildDecisions,
  BuildPlan,
  BuildRun,
  BuildStep,
  FoamResult,
  MarkedPanels,
  Seams,
  SheetPlan,
  Shell,
  StockSheet,
} from '../model';
import type { Mm } from '../units';
import { cutList } from './cutList';
import { mirrorPanels } from './mirrorPanels';
import { buildNeeds } from './needs';
import { openingsOf } from './openings';
import { gluingOrder, type PlannedStep } from './order';
import { type Stretch, seamGraph } from './seamGraph';
import { handGirth, openShare } from './tolerance';
import { createUnion } from './union';

export interface BuildInput {
  readonly foam: FoamResult;
  /** The panels as they are drawn, mirror pairs once; absent: as in `foam`. */
  readonly listed?: FoamResult;
  readonly seams: Seams;
  /** For the notches on each seam; null: not counted. */
  readonly marked: MarkedPanels | null;
  /** For symmetry; null: none is known. */
  readonly shell: Shell | null;
  /** For the sheets that are bought; null: reckoned from the area. */
  readonly sheets: SheetPlan | null;
  /** Sheets that the person has listed, with their own sizes and prices; absent: none. */
  readonly stock?: readonly StockSheet[];
  readonly pages: number;
  readonly padding: Mm;
  readonly decisions: BuildDecisions;
}

/**
 * The gluing order, the cut list, and what the build takes. Steps that a person moved are taken in that order; a seam
 * whose other panel is not there yet is glued in the step that brings it.
 */
export function planBuild(input: BuildInput): BuildPlan {
  const { foam, seams, marked, shell, decisions } = input;
  const graph = seamGraph(foam, seams, marked);
  const partner = mirrorPanels(foam, shell);
  const glued = gluingOrder(graph, partner)
    .map((step) =>
      step.brings.some((p) => foam.panels[p]!.extra) ? { ...step, kind: 'add' as const } : step,
    )
    .filter((step) => !step.brings.some((p) => isStencil(foam.panels[p]!)));
  const planned = [...glued, ...painting(foam)].map((step) => ({ ...step, id: idOf(step, foam) }));
  const ordered = byHand(planned, decisions.order);
  const { steps, issues } = played(ordered, input, partner);
  return { steps, cutList: cutList(input.listed ?? foam), needs: buildNeeds(input, steps), issues };
}

const isStencil = ({ extra }: FoamResult['panels'][number]): boolean => extra?.kind === 'stencil';

/** Stencils are painted with when all is glued, all parts of one at a time. */
function painting({ panels }: FoamResult): PlannedStep[] {
  const parts = new Map<string, number[]>();
  panels.forEach((panel, p) => {
    const { extra } = panel;
    if (!extra || !isStencil(panel)) return;
    const same = parts.get(extra.part);
    if (same) same.push(p);
    else parts.set(extra.part, [p]);
  });
  return [...parts.values()].map((own) => ({ kind: 'paint', adds: own, brings: own, glued: [] }));
}

type NamedStep = PlannedStep & { readonly id: string };

/** Panels brought, or seams closed, make the id. */
function idOf({ kind, brings, glued }: PlannedStep, { panels }: FoamResult): string {
  const of = kind === 'close' ? (glued[0]?.seams[0]?.id ?? '') : (panels[brings[0]!]?.id ?? '');
  // A group that is glued to a single panel has the name of its first panel, which a step of its own may have too.
  return `${brings.length > 1 && kind !== 'paint' ? 'join' : kind}:${of}`;
}

/** Steps in the person's order; those that it does not name stay behind the step that they followed. */
export function byHand<T extends { readonly id: string }>(
  steps: readonly T[],
  order: readonly string[],
): T[] {
  const named = order.flatMap((id) => steps.find((s) => s.id === id) ?? []);
  const result = [...new Set(named)];
  steps.forEach((step, i) => {
    if (result.includes(step)) return;
    const before = i > 0 ? result.indexOf(steps[i - 1]!) : -1;
    result.splice(before + 1, 0, step);
  });
  return result;
}

/** Plays the steps through: what is there, what can be glued, what hangs together. */
function played(
  ordered: readonly NamedStep[],
  { foam, seams, decisions: { done } }: BuildInput,
  partner: readonly number[] | null,
): { steps: BuildStep[]; issues: Issue[] } {
  const there = new Set<number>();
  const together = new Set<string>();
  const openings = openingsOf(foam, seams);
  const areas = foam.panels.map((p) => Math.abs(p.outlines.traced.reduce((sum, r) => sum + ringArea(r), 0)));
  const union = createUnion<number>();
  let waiting: readonly Stretch[] = [];
  const issues: Issue[] = [];
  const nameOf = (p: number) => foam.panels[p]!.id;
  const extrasOf = (list: Iterable<number>) => [...list].filter((p) => foam.panels[p]!.extra);
  const steps = ordered.map((step, i): BuildStep => {
    for (const p of step.adds) there.add(p);
    for (const p of step.kind === 'shape' ? step.brings : []) there.add(p);
    const all = [...waiting, ...step.glued];
    const glued = all.filter((s) => there.has(s.a) && there.has(s.b));
    waiting = all.filter((s) => !glued.includes(s));
    for (const s of glued) {
      union.join(s.a, s.b);
      for (const seam of s.seams) together.add(seam.id);
    }
    const touched = [...step.brings, ...step.adds, ...glued.flatMap((s) => [s.a, s.b])];
    const loose = new Set(touched.filter((p) => there.has(p)).map((p) => union.find(p)));
    const apart = step.kind === 'paint';
    const gluesNone = glued.length === 0 && step.kind !== 'begin' && step.kind !== 'add';
    if (!apart && (gluesNone || loose.size > 1)) issues.push(notAttached(step, i));
    const hanging = [...there].filter((p) => touched.some((t) => union.find(t) === union.find(p)));
    const area = hanging.reduce((sum, p) => sum + areas[p]!, 0);
    const opening = openings.of(new Set(hanging), together)[0] ?? 0;
    // An extra part has no seam of its own: it goes on what is there, and stays to be seen.
    const onTop = step.kind === 'add' || apart;
    const present = onTop ? [...there] : [...new Set([...hanging, ...extrasOf(there)])];
    return {
      id: step.id,
      kind: step.kind,
      adds: step.adds.map(nameOf),
      present: present.sort((a, b) => a - b).map(nameOf),
      runs: glued.map((s) => runOf(s, foam)),
      twin: partner ? twinOf(step, ordered, partner) : null,
      done: done.includes(step.id),
      opening,
      blind: glued.length > 0 && !isWithinReach(opening, area),
    };
  });
  return { steps, issues };
}

/** Whether a hand gets behind all seams of an assembly: through its widest opening, or since it lies open anyway. */
const isWithinReach = (girth: Mm, area: number): boolean =>
  girth >= handGirth || girth ** 2 >= openShare * 4 * Math.PI * area;

const notAttached = ({ id }: NamedStep, index: number): Issue => ({
  code: 'step-not-attached',
  severity: 'warning',
  stage: 'build',
  message: `Step ${index + 1} of the build glues to something that is not there yet.`,
  remedy: 'Move it behind the step that brings the other panel, or go back to the computed order.',
  place: { ids: [id] },
});

/** The step that brings the mirror images of what this one brings. */
function twinOf(step: NamedStep, all: readonly NamedStep[], partner: readonly number[]): string | null {
  if (step.brings.length === 0) return null;
  const image = new Set(step.brings.map((p) => partner[p]!));
  const twin = all.find(
    (s) =>
      s !== step &&
      s.kind === step.kind &&
      s.brings.length === image.size &&
      s.brings.every((p) => image.has(p)),
  );
  return twin?.id ?? null;
}

function runOf(s: Stretch, { panels }: FoamResult): BuildRun {
  const sum = (of: (r: Stretch['rows'][number]) => number) => s.rows.reduce((total, r) => total + of(r), 0);
  const bevels = s.rows.map((r) => r.bevel);
  return {
    number: s.number,
    panels: [panels[s.a]!.id, panels[s.b]!.id],
    seams: s.seams.map((seam) => seam.id),
    lengthA: s.rows.length > 0 ? sum((r) => r.lengthA) : s.length,
    lengthB: s.rows.length > 0 ? sum((r) => r.lengthB) : s.length,
    mismatch: Math.max(0, ...s.rows.map((r) => Math.abs(r.mismatch))),
    preparations: [...new Set(s.rows.map((r) => r.preparation))],
    bevel: bevels.length > 0 ? [Math.min(...bevels), Math.max(...bevels)] : [0, 0],
    openWedge: Math.max(0, ...s.rows.map((r) => r.openWedge)),
    notches: Math.round(s.notches),
  };
}
