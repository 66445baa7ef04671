/**
 * A model Pattern straight from a generated pattern, without any reader: what reading should find. Ids are the
 * truth's own (pieces `P3`, edges `P3.e5`, folds `P3.f2`, faces `P3.q1`), so tests can compare by id.
 */
import type { EdgeLabel, Pattern, Piece } from '../../../src/model';
import { labelsOf } from './labels';
import type { Truth } from './truth';

/** Folds milder than this have no side that a drawing could tell, rad. */
const flatFold = 1e-9;

export function patternFromTruth(truth: Truth, options: { foldSigns?: boolean } = {}): Pattern {
  const signs = options.foldSigns ?? true;
  const pieces = truth.pieces.map(
    (p): Piece => ({
      id: p.id,
      name: p.name,
      outline: p.outline.map((e) => ({ id: e.id, points: e.points, curved: e.curve !== undefined })),
      holes: [],
      folds: p.folds.map((f) => ({
        id: f.id,
        points: f.points,
        role: !signs || Math.abs(f.bend) < flatFold ? 'unknown' : f.bend > 0 ? 'mountain' : 'valley',
        left: f.left,
        right: f.right,
      })),
      faces: p.faces.map((f) => ({ id: f.id, polygon: f.polygon, sides: f.sides, holes: [] })),
      tabs: p.tabs.map((t) => ({ id: `${t.edge}.tab`, polygon: t.polygon, edge: t.edge, kept: false })),
    }),
  );
  const labels: EdgeLabel[] = labelsOf(truth)
    .filter((l) => l.kind === 'number')
    .map((l) => ({
      edge: l.of,
      text: l.text,
      at: l.at,
      size: l.size,
      angle: l.angle,
      source: `${l.of}.text`,
    }));
  return {
    size: { width: truth.width, height: truth.height, from: { kind: 'physical' } },
    pieces,
    groups: [],
    roleOfLine: {},
    labels,
    unread: [],
    issues: [],
  };
}
