/** What the program would cut or join by the limits, as edits to accept or discard. */
import { fail, type Outcome, succeed, type Work } from '../base';
import { distance, dot3, norm3, type Point3, point3, ringArea, scaleBy3 } from '../math';
import {
  type PanelDecisions,
  type PanelProposal,
  type Pattern,
  type ProposalFigures,
  type ProposalKind,
  rootOf,
  type Seams,
  type Shell,
} from '../model';
import { faceNormals } from '../shell';
import {
  type Block,
  type Ground,
  groundTriangles,
  normalSum,
  type SheetRoom,
  spreadOf,
  tooLarge,
} from './block';
import { faceRound, holesOf } from './bridges';
import { dartsWithin } from './darts';
import { divide } from './divide';
import { blockOf, fewestPanels } from './fewest';
import { finerShell } from './finerShell';
import { layFlat } from './flat';
import { type Mirror, mirrorOf } from './mirror';
import { partsOf } from './parts';
import { verticesOf } from './recut';
import { reliefState } from './relief';
import { replay } from './state';
import { cornersOf, type Surface, surfaceOf } from './surface';

/**
 * Looks for cuts or joins on top of the edits that are there.
 * @param folded the shell of this pattern and these seams; without it nothing tells how panels bend
 * @param sheet what has to hold every panel, at the size of the drawing; null: the largest reach alone counts
 * @throws Cancelled
 */
export async function proposePanels(
  drawn: Pattern,
  drawnSeams: Seams,
  folded: Shell | null,
  { edits, limits }: Pick<PanelDecisions, 'edits' | 'limits'>,
  kind: ProposalKind,
  work: Work,
  sheet: SheetRoom | null = null,
): Promise<Outcome<PanelProposal>> {
  if (!folded) return fail(notFolded);
  const rims = kind === 'joins' || kind === 'anew' ? fillable(drawn, drawnSeams, folded, limits.bend) : [];
  const { pattern, surface, frozen, cut } = replay(drawn, drawnSeams, edits, rims);
  const finer = pattern === drawn ? null : finerShell(folded, surface);
  const shell = finer?.shell ?? folded;
  const vertexOf = finer?.vertexOf ?? verticesOf(folded, surface);
  const ground = groundOf(surface, shell, limits, sheet);
  const mirror = mirrorOf(shell, surface, vertexOf);
  const isFrozen = (h: number) =>
    [surface.hinges[h]!.a, surface.hinges[h]!.b].some((c) =>
      frozen.has(surface.faces[surface.chains[c]!.face]!.piece),
    );
  const before = figures(surface, ground, partsOf(pattern, surface, cut).length, cut);
  const done = async (): Promise<{ after: readonly boolean[]; beyond?: readonly string[] }> => {
    if (kind === 'slits') return reliefState(pattern, ground, cut, mirror, isFrozen);
    if (kind === 'splits') return { after: splitState(pattern, surface, ground, cut, mirror, isFrozen) };
    const start = kind === 'anew' ? surface.hinges.map((_, h) => !isFrozen(h) || cut[h]!) : cut;
    const blocks = blocksOf(pattern, surface, ground, start);
    const held = start.map((c, h) => c && !isFrozen(h));
    const { closed } = await fewestPanels(ground, blocks, held, mirror, work);
    const after = [...start];
    for (const h of closed) after[h] = false;
    return { after };
  };
  const { after, beyond: unrelieved } = await done();
  const parts = partsOf(pattern, surface, after);
  const cuts = surface.hinges.flatMap((h, i) => (after[i] && !cut[i] ? [h.id] : []));
  const joins = surface.hinges.flatMap((h, i) => (!after[i] && cut[i] ? [h.id] : []));
  const beyond = parts.filter((p) => {
    if (p.faces.length === 0) return false;
    const normal = normalSum(ground, p.faces);
    return (
      spreadOf(ground, p.faces, normal) > limits.spread + 1e-9 ||
      tooLarge(ground, layFlat(surface, p.faces, after, p.lead).corners)
    );
  });
  return succeed({
    kind,
    edits: [
      ...(cuts.length > 0 ? [{ kind: 'cut' as const, lines: cuts }] : []),
      ...(joins.length > 0 ? [{ kind: 'join' as const, lines: joins }] : []),
    ],
    before,
    after: figures(surface, ground, parts.length, after),
    symmetric: mirror !== null && isSymmetric(after, mirror),
    darts: parts
      .filter((p) => p.faces.length > 0 && p.untouched === null)
      .flatMap((p) => dartsWithin(surface, p.faces, after, layFlat(surface, p.faces, after, p.lead).corners))
      .sort((p, q) => q.width - p.width),
    beyond: unrelieved ?? beyond.map((p) => p.id),
  });
}

/**
 * Seams on rims of holes that bend little enough to be joined. Bridges to holes are not laid alike on both halves of a
 * symmetric shell, so there only holes of faces that are their own image count.
 */
function fillable(pattern: Pattern, seams: Seams, shell: Shell, limit: number): string[] {
  const holes = holesOf(pattern);
  if (holes.length === 0) return [];
  const surface = surfaceOf(pattern, seams);
  const mirror = mirrorOf(shell, surface, verticesOf(shell, surface));
  const numberOf = new Map(surface.faces.map((f, k) => [f.face, k]));
  const rims = new Set(
    holes.flatMap((hole) => {
      const face = numberOf.get(faceRound(pattern, hole)?.face.id ?? '');
      if (face === undefined || (mirror && mirror.face[face] !== face)) return [];
      return hole.rim;
    }),
  );
  return seams.seams.flatMap(({ id, a, b }) =>
    (rims.has(a.edge) || rims.has(b.edge)) && Math.abs(shell.bends[id] ?? Math.PI) <= limit ? [id] : [],
  );
}

const notFolded = {
  code: 'proposal-without-shell',
  severity: 'error',
  stage: 'panels',
  message:
    'Panels can only be proposed for a pattern that is folded up: without its shell nobody knows how they bend.',
  remedy: 'Fold the pattern up in the Seams step, or split and join by hand.',
  place: {},
} as const;

const isSymmetric = (cut: readonly boolean[], { hinge }: Mirror): boolean =>
  hinge.every((image, h) => image < 0 || cut[image] === cut[h]);

function groundOf(
  surface: Surface,
  shell: Shell,
  limits: PanelDecisions['limits'],
  sheet: SheetRoom | null,
): Ground {
  const patchNormals = faceNormals(shell);
  const sums = new Map<string, Point3>();
  shell.faces.forEach((patch, i) => {
    const weight = Math.abs(ringArea(patch.flat)) || 1;
    const n = scaleBy3(patchNormals[i]!, weight);
    const s = sums.get(patch.face) ?? point3(0, 0, 0);
    sums.set(patch.face, point3(s.x + n.x, s.y + n.y, s.z + n.z));
  });
  const normals = surface.faces.map((f) => {
    const sum = sums.get(rootOf(f.face)) ?? point3(0, 0, 1);
    const size = norm3(sum);
    return size === 0 ? point3(0, 0, 1) : scaleBy3(sum, 1 / size);
  });
  return {
    surface,
    normals,
    areas: surface.faces.map((f) => Math.abs(ringArea(f.flat))),
    bends: surface.hinges.map((h) => {
      const a = normals[surface.chains[h.a]!.face]!;
      const b = normals[surface.chains[h.b]!.face]!;
      const between = Math.acos(Math.max(-1, Math.min(1, dot3(a, b))));
      return Math.abs(shell.bends[h.id] ?? between);
    }),
    lengths: surface.hinges.map((h) => {
      const chain = surface.chains[h.a]!;
      const { flat } = surface.faces[chain.face]!;
      const corners = cornersOf(surface, chain);
      return corners.slice(1).reduce((sum, j, k) => sum + distance(flat[corners[k]!]!, flat[j]!), 0);
    }),
    triangles: groundTriangles(surface),
    limits,
    sheet,
  };
}

function blocksOf(pattern: Pattern, surface: Surface, ground: Ground, cut: readonly boolean[]): Block[] {
  return partsOf(pattern, surface, cut)
    .filter((p) => p.faces.length > 0)
    .map((part, key) =>
      blockOf(ground, key, part.faces, layFlat(surface, part.faces, cut, part.lead).corners),
    );
}

function figures(surface: Surface, ground: Ground, panels: number, cut: readonly boolean[]): ProposalFigures {
  return { panels, seams: surface.hinges.reduce((sum, _, h) => sum + (cut[h] ? ground.lengths[h]! : 0), 0) };
}

/** Sharp folds cut; then panels that are too curved or too large are divided until they hold, or nothing divides them. */
function splitState(
  pattern: Pattern,
  surface: Surface,
  ground: Ground,
  cut: readonly boolean[],
  mirror: Mirror | null,
  isFrozen: (h: number) => boolean,
): boolean[] {
  const { limits } = ground;
  const after = cut.map((c, h) => c || (ground.bends[h]! > limits.bend && !isFrozen(h)));
  const tooMuch = (faces: readonly number[], lead: number) => {
    if (spreadOf(ground, faces, normalSum(ground, faces)) > limits.spread + 1e-9) return true;
    return tooLarge(ground, layFlat(surface, faces, after, lead).corners);
  };
  const settled = new Set<string>();
  for (;;) {
    const part = partsOf(pattern, surface, after).find((p) => {
      const key = p.faces.join(' ');
      if (p.faces.length < 2 || settled.has(key)) return false;
      if (tooMuch(p.faces, p.lead)) return true;
      settled.add(key);
      return false;
    });
    if (!part) return after;
    const line = divide(ground, part.faces, after, isFrozen);
    if (line === null) {
      settled.add(part.faces.join(' '));
      continue;
    }
    for (const h of line) {
      after[h] = true;
      const image = mirror?.hinge[h] ?? -1;
      if (image >= 0 && !isFrozen(image)) after[image] = true;
    }
  }
}
