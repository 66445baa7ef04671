/**
 * Marks panels: outline, open edges, folds, notches, seam numbers, bevels, names. Everything stays in the panel's own
 * space as seen from outside; whoever prints the inside face mirrors the marked panel as a whole with `placeLettering`
 * and `placePoints` of the model, which keep lettering readable and what is free of overlap free of overlap.
 */
import type { Issue } from '../base';
import { ringArea } from '../math';
import type {
  FoamResult,
  MarkDecisions,
  MarkedPanel,
  MarkedPanels,
  MarkLine,
  NotchMark,
  Panel,
  Seams,
} from '../model';
import type { Mm } from '../units';
import { borderTicks, foldLines, guideLines, outlineLines } from './edgeLines';
import { letterGuides } from './letterGuides';
import type { LetteringFont } from './letteringFont';
import { letterName } from './letterName';
import { letterSeams } from './letterSeams';
import { placeNotches } from './notchMarks';
import type { PanelLetters } from './panelLetters';
import { type Line, linesOf, makeRoom } from './room';
import { findRunPairs, findRunSides, type RunSide } from './runSides';
import { spotsOf } from './spots';
import { smallestLetter } from './tolerance';

/**
 * Marks all panels of a foam result.
 * @param seams the seams whose ids the panels' edges carry.
 * @returns one marked panel per panel, same order, same space; findings about missing room, notches and letters.
 */
export function markPanels(
  foam: FoamResult,
  seams: Seams,
  marks: MarkDecisions,
  font: LetteringFont,
): MarkedPanels {
  const sides = findRunSides(foam.panels, seams);
  const notches = marks.notches
    ? placeNotches(foam.panels, findRunPairs(foam.panels, seams), sides)
    : { byPanel: new Map<string, readonly NotchMark[]>(), issues: [] };
  const issues: Issue[] = [...notches.issues];
  const panels = foam.panels.map((panel) => {
    const own = sides.filter((s) => s.panel === panel.id);
    return markPanel(panel, own, notches.byPanel.get(panel.id) ?? [], marks, font, issues);
  });
  issues.push(...missingLetters(foam.panels, font));
  return { panels, issues };
}

function markPanel(
  panel: Panel,
  sides: readonly RunSide[],
  notches: readonly NotchMark[],
  marks: MarkDecisions,
  font: LetteringFont,
  issues: Issue[],
): MarkedPanel {
  const outlines = outlineLines(panel);
  const ticks = borderTicks(panel);
  const folds = marks.folds ? foldLines(panel) : [];
  const guides = guideLines(panel);
  const lines: MarkLine[] = [...outlines, ...ticks, ...folds, ...guides];
  if (panel.outlines.traced.length === 0) return { panel, lines, lettering: [], notches };

  const ink: Line[] = [
    ...ticks.flatMap((t) => linesOf(t.points)),
    ...notches.map((n) => ({ a: n.at, b: n.to })),
  ];
  const room = makeRoom(
    panel.outlines.traced,
    [...folds, ...guides].flatMap((f) =>
      linesOf(f.closed ? [...f.points, ...f.points.slice(0, 1)] : f.points),
    ),
    ink,
  );
  const size = Math.sqrt(
    Math.max(
      0,
      panel.outlines.traced.reduce((sum, r) => sum + ringArea(r), 0),
    ),
  );
  const on: PanelLetters = {
    panel,
    room,
    spots: spotsOf(room),
    font,
    tallest: sized(marks.letterHeight, size, seamNumberShare),
    up: marks.up ?? Math.PI / 2,
  };
  const numbers = letterSeams(on, sides, marks);
  const guided = letterGuides(on, panel, marks.folds);
  const names = letterName(on, marks.names, sized(nameRatio * marks.letterHeight, size, nameShare));
  issues.push(...unplacedIssues(panel, numbers.unplaced, names.unplaced));
  return {
    panel,
    lines: [...lines, ...numbers.leaders, ...names.leaders],
    lettering: [...numbers.lettering, ...guided.lettering, ...names.lettering],
    notches,
  };
}

/** Letter heights as parts of the panel's size (the side of a square of its area), so that small parts stay legible. */
const seamNumberShare = 0.1;
const nameShare = 0.11;
/** Names may be this much taller than seam numbers. */
const nameRatio = 1.6;

const sized = (tallest: Mm, size: Mm, share: number): Mm =>
  Math.max(smallestLetter, Math.min(tallest, share * size));

function unplacedIssues(panel: Panel, numbers: readonly string[], names: readonly string[]): Issue[] {
  const all = [...numbers, ...names];
  if (all.length === 0) return [];
  return [
    {
      code: 'no-room-for-lettering',
      severity: 'warning',
      stage: 'marks',
      message: `Panel ${panel.name} has no room for: ${all.join(', ')}.`,
      remedy: 'Write it on the back of the template, or join the panel to a neighbour.',
      place: { ids: [panel.id] },
    },
  ];
}

function missingLetters(panels: readonly Panel[], font: LetteringFont): Issue[] {
  return panels.flatMap((panel): Issue[] => {
    const missing = font.missing(panel.name);
    if (missing.length === 0) return [];
    return [
      {
        code: 'letters-not-in-font',
        severity: 'note',
        stage: 'marks',
        message: `The name "${panel.name}" has letters that the printed lettering lacks (${missing.join(' ')}); they print as empty boxes.`,
        remedy: 'Rename the panel with Latin letters.',
        place: { ids: [panel.id] },
      },
    ];
  });
}
