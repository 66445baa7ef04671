/**
 * Two panels that are nearly mirror images made exactly alike: each corner goes half the way to where the other panel,
 * turned over and laid on it (closed-form Procrustes, as for mirror pairs), has its own. On finished panels, all skins.
 */
import type { Issue } from '../base';
import { distance, type Point, polylineLength } from '../math';
import type { AlikeEdit, FoamResult, FoamSeamRow, Panel, PanelEdit, Seams } from '../model';
import type { Mm } from '../units';
import { agreement, flipped, formOf, mayPair } from './pairs';
import { type Motion, moved } from './procrustes';
import { grown } from './smooth';
import { seamPull } from './tolerance';

export interface MadeAlike {
  readonly edit: string;
  readonly panels: readonly [string, string];
  /** Farthest that a corner of either panel moved. */
  readonly moved: Mm;
}

export interface AlikePanels {
  readonly foam: FoamResult;
  readonly made: readonly MadeAlike[];
}

/** Makes the pairs that edits name alike; those that can't be are told and left. Without such edits: the same object. */
export function makeAlike(
  foam: FoamResult,
  { seams }: Pick<Seams, 'seams'>,
  edits: readonly PanelEdit[],
): AlikePanels {
  const asked = edits.filter((e): e is AlikeEdit => e.kind === 'alike');
  if (asked.length === 0) return { foam, made: [] };
  const panels = new Map(foam.panels.map((p) => [p.id, p]));
  const made: MadeAlike[] = [];
  const stuck: string[] = [];
  const issues: Issue[] = [];
  for (const edit of asked) {
    const [p, q] = edit.panels.map((id) => panels.get(id));
    const why = !p || !q ? 'gone' : p === q ? 'same' : null;
    const both = p && q && why === null ? meanOf(p, q, edit.within) : null;
    if (!p || !q || !both) {
      stuck.push(edit.id);
      issues.push(notAlike(edit, p, q));
      continue;
    }
    panels.set(p.id, both.one);
    panels.set(q.id, both.two);
    made.push({ edit: edit.id, panels: edit.panels, moved: both.moved });
    issues.push(alikeNote(p, q, both.moved));
  }
  const growth = new Map<string, Mm>();
  for (const before of foam.panels) {
    const after = panels.get(before.id)!;
    if (after === before) continue;
    before.loops.forEach((loop, l) => {
      loop.forEach((edge, k) => {
        const by = polylineLength(after.loops[l]![k]!.points) - polylineLength(edge.points);
        if (by !== 0) growth.set(edge.id, by);
      });
    });
  }
  const seamOf = new Map(seams.map((s) => [s.id, s]));
  const rows = foam.rows.map((row): FoamSeamRow => grown(row, seamOf.get(row.seam), growth));
  return {
    made,
    foam: {
      ...foam,
      panels: foam.panels.map((p) => panels.get(p.id)!),
      rows,
      issues: [...foam.issues, ...issues, ...seamsApart(foam, rows, seams, made)],
      ...(stuck.length > 0 ? { stuckEdits: [...(foam.stuckEdits ?? []), ...stuck] } : {}),
    },
  };
}

const turnOver = (p: Point): Point => ({ x: -p.x, y: p.y });

function meanOf(p: Panel, q: Panel, within: Mm): { one: Panel; two: Panel; moved: Mm } | null {
  const [a, b] = [formOf(p), formOf(q)];
  if (!a || !b || !mayPair(p, q, a, b, within)) return null;
  const laid = agreement(p, q, within);
  if (!laid) return null;
  const { motion } = laid;
  const inverse = inverseOf(motion);
  /** A place on the first panel, on the second as it lies by itself. */
  const back = (r: Point) => turnOver(moved(r, inverse));
  let far = 0;
  const goals: { readonly from: Point; readonly own: Point; readonly to: Point }[] = [];
  const rings = (['inside', 'traced', 'outside'] as const).map((skin) => {
    const pairs = p.outlines[skin].map((ring, i) => {
      const over = flipped(q.outlines[skin][i]!).map((r) => moved(r, motion));
      const shift = bestShift(ring, over);
      return ring.map((r, k) => {
        const other = over[(k + shift) % ring.length]!;
        const mean = { x: (r.x + other.x) / 2, y: (r.y + other.y) / 2 };
        far = Math.max(far, distance(r, mean));
        if (skin === 'traced') goals.push({ from: r, own: back(other), to: mean });
        return { mean, shift };
      });
    });
    return {
      skin,
      one: pairs.map((ring) => ring.map((r) => r.mean)),
      // In the second panel's own order: turned over, rings run the other way.
      two: pairs.map((ring) => {
        const n = ring.length;
        const shift = ring[0]?.shift ?? 0;
        const flat: Point[] = Array.from({ length: n });
        ring.forEach(({ mean }, k) => {
          flat[n - 1 - ((k + shift) % n)] = back(mean);
        });
        return flat;
      }),
    };
  });
  const outlines = (which: 'one' | 'two'): Panel['outlines'] => ({
    inside: rings[0]![which],
    traced: rings[1]![which],
    outside: rings[2]![which],
  });
  const one = follow(
    p,
    outlines('one'),
    goals.map(({ from, to }) => ({ from, to })),
  );
  const two = follow(
    q,
    outlines('two'),
    goals.map(({ own, to }) => ({ from: own, to: back(to) })),
  );
  return { one, two, moved: far };

  function follow(
    panel: Panel,
    next: Panel['outlines'],
    corners: readonly { readonly from: Point; readonly to: Point }[],
  ): Panel {
    const at = (r: Point): Point => {
      let near: (typeof corners)[number] | null = null;
      for (const c of corners) if (!near || distance(c.from, r) < distance(near.from, r)) near = c;
      return near ? { x: r.x + near.to.x - near.from.x, y: r.y + near.to.y - near.from.y } : r;
    };
    return {
      ...panel,
      outlines: next,
      loops: panel.loops.map((loop) =>
        loop.map((edge) => {
          const points = edge.points.map(at);
          const length = polylineLength(edge.points);
          const rate = length > 0 ? polylineLength(points) / length : 1;
          return {
            ...edge,
            points,
            ...(edge.vertices ? { vertices: edge.vertices.map((s) => s * rate) } : {}),
          };
        }),
      ),
      folds: panel.folds.map((fold) => ({ ...fold, points: fold.points.map(at) })),
    };
  }
}

const inverseOf = ({ c, s, dx, dy }: Motion): Motion => ({
  c,
  s: -s,
  dx: -(c * dx + s * dy),
  dy: s * dx - c * dy,
});

/** By how many corners the second ring is ahead of the first. */
function bestShift(ring: readonly Point[], over: readonly Point[]): number {
  let [best, least] = [0, Number.POSITIVE_INFINITY];
  for (let shift = 0; shift < ring.length; shift++) {
    let worst = 0;
    for (let k = 0; k < ring.length && worst < least; k++)
      worst = Math.max(worst, distance(ring[k]!, over[(k + shift) % ring.length]!));
    if (worst < least) [best, least] = [shift, worst];
  }
  return best;
}

/**
 * Seams whose sides come to differ because a panel beside them was made symmetric: the panel beyond is not moved along,
 * for its own other seams would differ then.
 */
function seamsApart(
  { rows: before, panels }: FoamResult,
  after: readonly FoamSeamRow[],
  seams: Seams['seams'],
  made: readonly MadeAlike[],
): Issue[] {
  const homes = new Map(panels.flatMap((p) => p.loops.flat().map((e) => [e.id, p] as const)));
  const changed = new Set(made.flatMap((m) => m.panels));
  const apart = (r: FoamSeamRow): Mm => r.lengthA + r.stretchA - r.lengthB - r.stretchB;
  const was = new Map(before.map((r) => [r.seam, apart(r)]));
  const runs = new Map<
    string,
    { number: number; names: [string, string]; edges: string[]; was: Mm; is: Mm }
  >();
  const seamOf = new Map(seams.map((s) => [s.id, s]));
  for (const row of after) {
    const seam = seamOf.get(row.seam);
    const [p, q] = seam ? [homes.get(seam.a.edge), homes.get(seam.b.edge)] : [];
    if (!seam || !p || !q || (!changed.has(p.id) && !changed.has(q.id))) continue;
    // The sides of one number may be named the other way round from stretch to stretch.
    const sign = p.id < q.id ? 1 : -1;
    const key = `${row.run} ${[p.id, q.id].sort().join(' ')}`;
    const run = runs.get(key) ?? { number: row.run, names: [p.name, q.name], edges: [], was: 0, is: 0 };
    runs.set(key, {
      ...run,
      edges: [...run.edges, seam.a.edge, seam.b.edge],
      was: run.was + sign * (was.get(row.seam) ?? 0),
      is: run.is + sign * apart(row),
    });
  }
  return [...runs.values()]
    .filter((run) => Math.abs(run.is - run.was) > seamPull)
    .sort((a, b) => Math.abs(b.is - b.was) - Math.abs(a.is - a.was))
    .map(({ number, names: [one, two], edges, was: then, is }) => ({
      code: 'alike-seam-apart',
      severity: Math.abs(is) > pullInReach ? ('warning' as const) : ('note' as const),
      stage: 'panels' as const,
      message: `Seam ${number} between ${one} and ${two}: its sides now differ by ${Math.abs(is).toFixed(1)} mm (${Math.abs(then).toFixed(1)} mm before), because a panel was made symmetric and the other keeps its edge.`,
      remedy:
        Math.abs(is) > pullInReach
          ? 'Make the panels beyond symmetric as well, so that both sides of the shell change alike, and ease the longer side in from the middle; or take this edit out.'
          : 'Ease the longer side in from the middle when you glue it; foam takes up as much.',
      place: { ids: edges },
    }));
}

/** Foam of usual thickness takes up a millimetre along a seam (common practice, no source), told to a tenth. */
const pullInReach: Mm = 1.05;

const alikeNote = (p: Panel, q: Panel, by: Mm): Issue => ({
  code: 'panels-made-alike',
  severity: 'note',
  stage: 'panels',
  message: `Panels ${p.name} and ${q.name} are made exact mirror images: corners of each moved by up to ${by.toFixed(2)} mm, and edges that meet other panels with them.`,
  remedy: '',
  place: { ids: [p.id, q.id] },
});

function notAlike(edit: AlikeEdit, p: Panel | undefined, q: Panel | undefined): Issue {
  const names = p && q ? `${p.name} and ${q.name}` : 'two panels';
  const why =
    p && q
      ? `they differ by more than ${edit.within.toFixed(2)} mm, or in thickness, foam or number of corners`
      : 'one of them is no longer there';
  return {
    code: 'panels-not-alike',
    severity: 'warning',
    stage: 'panels',
    message: `Panels ${names} could not be made mirror images, because ${why}. Everything else is as you left it.`,
    remedy: 'Take this edit out in the Panels step, allow for more, or edit both panels alike.',
    place: { ids: [edit.id, ...edit.panels] },
  };
}
