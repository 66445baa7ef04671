/**
 * Panels that are mirror images of each other: one template serves for both, turned over for the second. Found on the
 * finished outlines, so that whatever made two panels differ (thickness, edges, edits) keeps them apart.
 */
import type { Issue } from '../base';
import { distance, type Point, polylineLength, ringArea } from '../math';
import type { FoamResult, MarkedPanels, Panel, Seams } from '../model';
import type { Mm } from '../units';
import { bestMotion, type Motion, moved } from './procrustes';

export interface MirrorPair {
  /** Panel that is drawn, and the one that is cut with its template turned over. */
  readonly kept: string;
  readonly twin: string;
  /** Farthest that a corner of one outline lies from the other. */
  readonly off: Mm;
  /** Edges of both that are each other's images. */
  readonly edges: readonly (readonly [string, string])[];
}

/**
 * Pairs in the order of the panels; the earlier one is kept.
 * @param within corners of all three outlines agree so well, mm
 */
export function mirrorPairs({ panels }: Pick<FoamResult, 'panels'>, within: Mm): readonly MirrorPair[] {
  const forms = panels.map(formOf);
  const taken = new Set<number>();
  const pairs: MirrorPair[] = [];
  panels.forEach((kept, i) => {
    if (taken.has(i) || !forms[i]) return;
    let best: { j: number; off: Mm; motion: Motion } | null = null;
    for (let j = i + 1; j < panels.length; j++) {
      if (taken.has(j) || !forms[j] || !mayPair(kept, panels[j]!, forms[i]!, forms[j]!, within)) continue;
      const found = agreement(kept, panels[j]!, within);
      if (found && (!best || found.off < best.off)) best = { j, ...found };
    }
    if (!best) return;
    taken.add(i).add(best.j);
    const twin = panels[best.j]!;
    pairs.push({ kept: kept.id, twin: twin.id, off: best.off, edges: edgesOf(kept, twin, best) });
  });
  return pairs;
}

interface Form {
  readonly area: number;
  readonly girth: Mm;
}

export function formOf({ outlines, extra }: Panel): Form | null {
  const ring = outlines.traced[0];
  if (!ring || extra) return null;
  return { area: ringArea(ring), girth: polylineLength([...ring, ring[0]!]) };
}

/** Quick tests: what differs by more than the tolerance lets outlines differ is no pair. */
export function mayPair(p: Panel, q: Panel, a: Form, b: Form, within: Mm): boolean {
  const skins = ['inside', 'traced', 'outside'] as const;
  return (
    p.thickness === q.thickness &&
    p.material === q.material &&
    p.quantity === q.quantity &&
    skins.every(
      (s) =>
        p.outlines[s].length === q.outlines[s].length &&
        p.outlines[s].every((r, i) => r.length === q.outlines[s][i]!.length),
    ) &&
    Math.abs(a.girth - b.girth) <= 2 * within * (p.outlines.traced[0]!.length + 1) &&
    Math.abs(a.area - b.area) <= within * (a.girth + b.girth)
  );
}

export const flipped = (ring: readonly Point[]): Point[] => ring.map((p) => ({ x: -p.x, y: p.y })).reverse();

/** The best way to lay the second panel, turned over, on the first; null when a corner is off by more. */
export function agreement(p: Panel, q: Panel, within: Mm): Laid | null {
  const ring = p.outlines.traced[0]!;
  const over = flipped(q.outlines.traced[0]!);
  let best: Laid | null = null;
  for (let shift = 0; shift < ring.length; shift++) {
    const turned = ring.map((_, k) => over[(k + shift) % ring.length]!);
    const motion = bestMotion(turned, ring);
    const off = farthest(ring, turned, motion, best?.off ?? within);
    if (off !== null) best = { off, motion };
  }
  if (!best) return null;
  const { motion } = best;
  const rest = (['inside', 'traced', 'outside'] as const).flatMap((skin) =>
    p.outlines[skin].map((r, i) => [r, flipped(q.outlines[skin][i]!)] as const),
  );
  for (const [one, two] of rest) {
    const least = Math.max(
      ...two.map((t) => {
        const at = moved(t, motion);
        return Math.min(...one.map((o) => distance(o, at)));
      }),
    );
    if (least > within) return null;
    best = { ...best, off: Math.max(best.off, least) };
  }
  return best;
}

export interface Laid {
  readonly off: Mm;
  /** Lays the second panel, turned over, on the first. */
  readonly motion: Motion;
}

/** Null when one corner is off by more than `least`. */
function farthest(ring: readonly Point[], turned: readonly Point[], motion: Motion, least: Mm): Mm | null {
  let off = 0;
  for (const [k, t] of turned.entries()) {
    off = Math.max(off, distance(ring[k]!, moved(t, motion)));
    if (off > least) return null;
  }
  return off;
}

/** Edges whose middles lie on each other. */
export function edgesOf(
  p: Panel,
  q: Panel,
  { motion }: { readonly motion: Motion },
): (readonly [string, string])[] {
  const middle = (points: readonly Point[]): Point | null => {
    const [a, b] = [points[0], points.at(-1)];
    return a && b ? { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 } : null;
  };
  const own = p.loops.flat().map((e) => ({ id: e.id, at: middle(e.points) }));
  return q.loops.flat().flatMap((edge) => {
    const m = middle(edge.points);
    if (!m) return [];
    const at = moved({ x: -m.x, y: m.y }, motion);
    const near = own
      .flatMap((o) => (o.at ? [{ id: o.id, off: distance(o.at, at) }] : []))
      .sort((a, b) => a.off - b.off)[0];
    return near ? [[near.id, edge.id] as const] : [];
  });
}

/** The panels with the first of each pair to be cut once more, turned over. */
export const withPairs = (foam: FoamResult, pairs: readonly MirrorPair[]): FoamResult => {
  if (pairs.length === 0) return foam;
  const kept = new Set(pairs.map((p) => p.kept));
  return { ...foam, panels: foam.panels.map((p) => (kept.has(p.id) ? { ...p, mirrored: true } : p)) };
};

/** What is drawn: without the panels that the template of another serves for. */
export function drawnOnce<T extends FoamResult | MarkedPanels>(all: T, pairs: readonly MirrorPair[]): T {
  if (pairs.length === 0) return all;
  const twins = new Set(pairs.map((p) => p.twin));
  const panels = all.panels.filter((p) => !twins.has('panel' in p ? p.panel.id : p.id));
  return { ...all, panels };
}

/** What the maker has to know: which panel serves for which, and which numbers its seams have on the other side. */
export function pairIssues(
  { panels }: Pick<FoamResult, 'panels'>,
  { seams }: Seams,
  pairs: readonly MirrorPair[],
  within: Mm,
): readonly Issue[] {
  if (pairs.length === 0)
    return [
      {
        code: 'no-mirror-pairs',
        severity: 'note',
        stage: 'panels',
        message: `No two panels are mirror images of each other within ${within.toFixed(1)} mm, so each has a template of its own.`,
        remedy: 'Allow for more in the Panels step, or leave every panel with its own template.',
        place: {},
      },
    ];
  const nameOf = new Map(panels.map((p) => [p.id, p.name]));
  const numberOn = new Map(seams.flatMap((s) => [s.a, s.b].map((side) => [side.edge, s.number] as const)));
  return [
    {
      code: 'mirror-pairs',
      severity: 'note',
      stage: 'panels',
      message: `${pairs.length === 1 ? 'One template is' : `${pairs.length} templates are`} cut twice, the second time turned over; both panels of a pair agree within ${Math.max(...pairs.map((p) => p.off)).toFixed(2)} mm.`,
      remedy: '',
      place: { ids: pairs.map((p) => p.kept) },
    },
    ...pairs.flatMap((pair): Issue[] => {
      const numbers = new Map<number, number>();
      for (const [a, b] of pair.edges) {
        const [one, two] = [numberOn.get(a), numberOn.get(b)];
        if (one !== undefined && two !== undefined && one !== two) numbers.set(one, two);
      }
      if (numbers.size === 0) return [];
      const list = [...numbers].sort(([a], [b]) => a - b).map(([a, b]) => `${a} is ${b}`);
      return [
        {
          code: 'mirror-pair-numbers',
          severity: 'note',
          stage: 'panels',
          message: `Turned over, the template of ${nameOf.get(pair.kept)} makes ${nameOf.get(pair.twin)}. Its seam numbers and their notch ticks are those of ${nameOf.get(pair.kept)}; on ${nameOf.get(pair.twin)} seam ${list.join(', ')}.`,
          remedy: 'Write these numbers on the copy that is turned over.',
          place: { ids: [pair.kept] },
        },
      ];
    }),
  ];
}
