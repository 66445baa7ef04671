/** A hand-made bench: two square pieces with a fold and a tab, as if they had been read from a drawing. */
import { createEditor, type Editor } from '../../app/document/editor';
import { type Edge, noResults, type Pattern, type Piece, type Seam } from '../../src/model';
import { findSeams } from '../../src/seams';
import { plainDocument } from '../project/arbitrary';

/** A square of 100 mm with its lower-left corner at x, folded upright in the middle. */
function square(id: string, x: number): Piece {
  const corner = (i: number) =>
    [
      { x, y: -100 },
      { x: x + 100, y: -100 },
      { x: x + 100, y: 0 },
      { x, y: 0 },
    ][i % 4]!;
  const side = (i: number): Edge => ({ id: `${id}e${i}`, points: [corner(i), corner(i + 1)], curved: false });
  return {
    id,
    name: id.toUpperCase(),
    outline: [0, 1, 2, 3].map(side),
    holes: [],
    folds: [
      {
        id: `${id}f`,
        points: [
          { x: x + 50, y: -100 },
          { x: x + 50, y: 0 },
        ],
        role: 'mountain',
        left: `${id}left`,
        right: `${id}right`,
      },
    ],
    faces: [],
    tabs: [
      { id: `${id}t`, polygon: [corner(3), corner(2), { x: x + 50, y: 10 }], edge: `${id}e2`, kept: false },
    ],
  };
}

export const handPattern: Pattern = {
  size: { width: 300, height: 200, from: { kind: 'physical' } },
  pieces: [square('a', 0), square('b', 150)],
  groups: [],
  roleOfLine: { '0:1:0': 'outline', '0:2:0': 'outline', '0:3:0': 'mountain' },
  labels: [],
  unread: [],
  issues: [],
};

/** The bench with results that follow its decisions as far as seams go. */
export function handBench(): Editor {
  const editor = createEditor(() => 0);
  editor.show(plainDocument, 'd1');
  const follow = () => {
    const { document, results } = editor.session.getState();
    if (!document) return;
    const seams = findSeams(handPattern, document.decisions.seams);
    editor.report({ results: { ...results, ...noResults, pattern: handPattern, seams }, stale: false });
  };
  follow();
  editor.session.subscribe((s, before) => {
    if (s.document !== before.document) follow();
  });
  return editor;
}

export const seamsNow = (editor: Editor): readonly Seam[] =>
  editor.session.getState().results.seams?.seams ?? [];
