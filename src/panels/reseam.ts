/** The seams of the panels: those of the pattern that are still open, and the cuts. */
import { polylineLength } from '../math';
import {
  cutSeamId,
  type Edge,
  type OpenEdge,
  type Piece,
  type Seam,
  type SeamRun,
  type Seams,
} from '../model';
import type { Draft } from './draft';
import type { PanelPart } from './parts';
import { type CutState, dartOn } from './state';
import type { Surface } from './surface';

interface Home {
  readonly piece: string;
  readonly edge: Edge;
  readonly loop: readonly Edge[];
  readonly place: number;
  readonly changed: boolean;
}

/**
 * @param pieces the panels
 * @param drafts of the panels that changed, by id
 * @param darts that were placed, by hinge id
 */
export function reseam(
  seams: Seams,
  surface: Surface,
  cut: readonly boolean[],
  parts: readonly PanelPart[],
  pieces: readonly Piece[],
  drafts: ReadonlyMap<string, Draft>,
  darts: CutState['darts'],
): Seams {
  const homes = new Map<string, Home>();
  for (const piece of pieces)
    for (const loop of [piece.outline, ...piece.holes])
      loop.forEach((edge, place) => {
        homes.set(edge.id, { piece: piece.id, edge, loop, place, changed: drafts.has(piece.id) });
      });
  const panelOfFace = new Map(parts.flatMap((p) => p.faces.map((f) => [f, p] as const)));
  const overOf = new Map(surface.faces.map((f) => [f.piece, f.over]));
  /** The edge that a chain lies on now. */
  const edgeOn = (c: number): string => {
    const chain = surface.chains[c]!;
    return drafts.get(panelOfFace.get(chain.face)!.id)?.edgeOf.get(c) ?? chain.side;
  };
  /** A panel that is still drawn from inside. */
  const inside = (c: number): boolean => {
    const { face } = surface.chains[c]!;
    return surface.faces[face]!.over && panelOfFace.get(face)!.untouched !== null;
  };
  const list: Seam[] = seams.seams.flatMap((seam): Seam[] => {
    const h = surface.hingeAt.get(seam.id);
    if (h !== undefined && !cut[h]) return [];
    const chainsOf = (edge: string) =>
      h === undefined
        ? []
        : [surface.hinges[h]!.a, surface.hinges[h]!.b].filter((c) => surface.chains[c]!.side === edge);
    const side = (which: 'a' | 'b') => {
      const own = seam[which];
      const chains = chainsOf(own.edge);
      const edge = chains.length === 1 ? edgeOn(chains[0]!) : own.edge;
      const home = homes.get(edge);
      return home ? { home, edge, was: own.edge, chain: chains[0] ?? null } : null;
    };
    const a = side('a');
    const b = side('b');
    if (!a || !b) return [];
    const turned = (s: typeof a) => s.home.changed && overOf.get(seam[s === a ? 'a' : 'b'].piece) === true;
    const flip = turned(a) !== turned(b);
    const direction = flip ? (seam.direction === 'opposed' ? 'along' : 'opposed') : seam.direction;
    const { partA, partB, ...rest } = seam;
    return [
      {
        ...rest,
        direction,
        a: { piece: a.home.piece, edge: a.edge },
        b: { piece: b.home.piece, edge: b.edge },
        ...(partA && a.edge === a.was ? { partA } : {}),
        ...(partB && b.edge === b.was ? { partB } : {}),
      },
    ];
  });
  surface.hinges.forEach((hinge, h) => {
    if (hinge.kind !== 'fold' || !cut[h]) return;
    const [ea, eb] = [edgeOn(hinge.a), edgeOn(hinge.b)];
    const a = homes.get(ea);
    const b = homes.get(eb);
    if (!a || !b) return;
    const dart = a.piece === b.piece ? dartOn(darts, hinge.id) : null;
    list.push({
      ...(dart ? { dart } : {}),
      id: cutSeamId(hinge.id),
      number: 0,
      a: { piece: a.piece, edge: ea },
      b: { piece: b.piece, edge: eb },
      direction: inside(hinge.a) !== inside(hinge.b) ? 'along' : 'opposed',
      evidence: 'person',
      confidence: 1,
      lengthA: polylineLength(a.edge.points),
      lengthB: polylineLength(b.edge.points),
      reason: 'Cut here in the Panels step.',
    });
  });
  const { runs, ordered } = rerun(list, seams.runs, homes);
  return {
    seams: ordered,
    runs,
    open: seams.open.flatMap((open): OpenEdge[] => {
      const home = homes.get(open.edge);
      return home ? [home.piece === open.piece ? open : { ...open, piece: home.piece }] : [];
    }),
    issues: seams.issues,
  };
}

/**
 * Runs of seams that follow each other along the same two panels. Between panels that did not change they stay as they
 * were; a run that grew or was divided keeps its number where its first seam is, new ones count on.
 */
function rerun(
  list: readonly Seam[],
  before: readonly SeamRun[],
  homes: ReadonlyMap<string, Home>,
): { runs: SeamRun[]; ordered: Seam[] } {
  const runBefore = new Map(before.flatMap((run) => run.seams.map((s) => [s, run] as const)));
  const seamOn = new Map<string, Seam[]>();
  for (const seam of list)
    for (const { edge } of [seam.a, seam.b]) seamOn.set(edge, [...(seamOn.get(edge) ?? []), seam]);
  const onlyOn = (edge: string): Seam | null => {
    const there = seamOn.get(edge) ?? [];
    return there.length === 1 && !there[0]!.partA && !there[0]!.partB ? there[0]! : null;
  };
  const step = (edge: string, by: 1 | -1): string => {
    const { loop, place } = homes.get(edge)!;
    return loop[(place + by + loop.length) % loop.length]!.id;
  };
  /** The seam after this one, walking its side `from` forward, with the side it is met on. */
  const onward = (seam: Seam, from: 'a' | 'b', by: 1 | -1): { seam: Seam; from: 'a' | 'b' } | null => {
    if (onlyOn(seam.a.edge) !== seam || onlyOn(seam.b.edge) !== seam) return null;
    const to = from === 'a' ? 'b' : 'a';
    const across = seam.direction === 'opposed' ? (by === 1 ? -1 : 1) : by;
    const next = step(seam[from].edge, by);
    const found = onlyOn(next);
    if (!found || found === seam || found.direction !== seam.direction) return null;
    const side = found.a.edge === next ? 'a' : 'b';
    const mate = found[side === 'a' ? 'b' : 'a'].edge;
    if (step(seam[to].edge, across) !== mate || onlyOn(mate) !== found) return null;
    const still = [next, mate].every((e) => !homes.get(e)!.changed);
    if (still && runBefore.get(found.id) !== runBefore.get(seam.id)) return null;
    return { seam: found, from: side };
  };
  const done = new Set<string>();
  const drafts: { members: Seam[]; old: SeamRun | undefined }[] = [];
  const add = (members: Seam[]) => {
    const olds = members.flatMap((s) => runBefore.get(s.id) ?? []);
    drafts.push({ members, old: olds.sort((p, q) => p.number - q.number)[0] });
  };
  for (const run of before) {
    // What no edge of its own tells apart (parts of long edges) stays together as it was.
    const rest = run.seams.flatMap((id) => list.filter((s) => s.id === id));
    if (rest.length > 0 && rest.length === run.seams.length && rest.every((s) => isPart(s, onlyOn))) {
      for (const s of rest) done.add(s.id);
      add(rest);
    }
  }
  for (const seam of list) {
    if (done.has(seam.id)) continue;
    let at: { seam: Seam; from: 'a' | 'b' } = { seam, from: 'a' };
    for (let k = 0; k <= list.length; k++) {
      const back = onward(at.seam, at.from, -1);
      if (!back || back.seam === seam || done.has(back.seam.id)) break;
      at = back;
    }
    const members: Seam[] = [];
    for (let go: typeof at | null = at; go && !done.has(go.seam.id); go = onward(go.seam, go.from, 1)) {
      done.add(go.seam.id);
      members.push(go.from === 'a' ? go.seam : turned(go.seam));
    }
    add(members);
  }
  const taken = new Set<number>();
  let most = Math.max(0, ...before.map((r) => r.number));
  const sorted = drafts
    .map((d, i) => ({ ...d, i }))
    .sort(
      (p, q) =>
        (p.old?.number ?? Number.MAX_SAFE_INTEGER) - (q.old?.number ?? Number.MAX_SAFE_INTEGER) || p.i - q.i,
    );
  const runs: SeamRun[] = [];
  const ordered: Seam[] = [];
  for (const { members, old } of sorted) {
    let number = old?.number ?? 0;
    if (number === 0 || taken.has(number)) number = ++most;
    taken.add(number);
    runs.push({ id: `run:${members[0]!.id}`, number, seams: members.map((s) => s.id) });
    ordered.push(...members.map((s) => (s.number === number ? s : { ...s, number })));
  }
  return { runs, ordered };
}

const isPart = (seam: Seam, onlyOn: (edge: string) => Seam | null): boolean =>
  onlyOn(seam.a.edge) !== seam || onlyOn(seam.b.edge) !== seam;

/** The same seam told from its other side. */
function turned(seam: Seam): Seam {
  const { partA, partB, ...rest } = seam;
  return {
    ...rest,
    a: seam.b,
    b: seam.a,
    lengthA: seam.lengthB,
    lengthB: seam.lengthA,
    ...(partB ? { partA: partB } : {}),
    ...(partA ? { partB: partA } : {}),
  };
}
