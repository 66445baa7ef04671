/**
 * The gluing order: panels' own seams, sub-assemblies with their mirror images step by step in turn, then the joining of
 * the sub-assemblies; each closes its rings when nothing more is added to it.
 */
import type { BuildStep } from '../model';
import { clustersOf, componentsOf } from './clusters';
import { grow } from './grow';
import type { SeamGraph, Stretch } from './seamGraph';

/** A step before anybody looked at what is there by then. Panels by index. */
export interface PlannedStep {
  readonly kind: BuildStep['kind'];
  readonly adds: readonly number[];
  /** Panels that the step brings to what is there: new ones, or those of a sub-assembly. */
  readonly brings: readonly number[];
  readonly glued: readonly Stretch[];
}

export function gluingOrder(graph: SeamGraph, partner: readonly number[] | null): PlannedStep[] {
  const clusters = clustersOf(graph, partner);
  return componentsOf(graph).flatMap((component) => {
    const groups = clusters.filter((c) => component.includes(c[0]!));
    return componentSteps(graph, groups, partner);
  });
}

function componentSteps(
  graph: SeamGraph,
  groups: readonly (readonly number[])[],
  partner: readonly number[] | null,
): PlannedStep[] {
  const groupOf = (panel: number) => groups.findIndex((g) => g.includes(panel));
  const twins = partner ? groups.map((g) => groupOf(partner[g[0]!]!)) : null;
  const whole = grow(graph, groups, twins);
  const steps: PlannedStep[] = [];
  const built = new Set<number>();
  for (const { part } of whole.taken) {
    if (built.has(part)) continue;
    const twin = twins?.[part] ?? part;
    const own = groupSteps(graph, groups[part]!, partner);
    const other = twin === part || built.has(twin) ? [] : groupSteps(graph, groups[twin]!, partner);
    built.add(part).add(twin);
    for (let i = 0; i < Math.max(own.length, other.length); i++) {
      if (own[i]) steps.push(own[i]!);
      if (other[i]) steps.push(other[i]!);
    }
  }
  whole.taken.forEach(({ part, glued }, i) => {
    const panels = groups[part]!;
    const lone = (p: readonly number[]) => (p.length === 1 ? p : []);
    if (i === 0) {
      if (groups.length === 1 && panels.length === 1)
        steps.push({ kind: 'begin', adds: panels, brings: panels, glued: [] });
      return;
    }
    const start = i === 1 ? lone(groups[whole.taken[0]!.part]!) : [];
    const adds = [...start, ...lone(panels)];
    const kind = panels.length > 1 && start.length === 0 ? 'join' : 'attach';
    steps.push({ kind, adds, brings: panels, glued });
  });
  return [...steps, ...whole.closing.map(closeStep)];
}

/** Seams of single panels with themselves, then the group panel by panel; a group of one panel has only the former. */
function groupSteps(
  graph: SeamGraph,
  group: readonly number[],
  partner: readonly number[] | null,
): PlannedStep[] {
  const shaping = group.flatMap((p): PlannedStep[] => {
    const own = graph.stretches.filter((s) => s.a === p && s.b === p);
    return own.length === 0 ? [] : [{ kind: 'shape', adds: [], brings: [p], glued: own }];
  });
  if (group.length === 1) return shaping;
  const local = partner && group.every((p) => group.includes(partner[p]!));
  const { taken, closing } = grow(
    graph,
    group.map((p) => [p]),
    local ? group.map((p) => group.indexOf(partner[p]!)) : null,
  );
  const steps = taken.slice(1).map(({ part, glued }, i): PlannedStep => {
    const panel = group[part]!;
    const adds = i === 0 ? [group[taken[0]!.part]!, panel] : [panel];
    return { kind: 'attach', adds, brings: [panel], glued };
  });
  return [...shaping, ...steps, ...closing.map(closeStep)];
}

const closeStep = (glued: readonly Stretch[]): PlannedStep => ({
  kind: 'close',
  adds: [],
  brings: [],
  glued,
});
