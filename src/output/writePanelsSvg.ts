/**
 * The panels as one SVG drawing in millimetres: one group per kind of line, in it one group per panel, so that a cutter
 * or a drawing program can pick a kind and still tell the panels apart. Each closed outline is one path.
 */
import { type Box, boxOf, joinBoxes, type Point } from '../math';
import {
  type LineKind,
  lineLooks,
  type MarkedPanel,
  type MarkedPanels,
  type Placing,
  placeLettering,
  placePoints,
} from '../model';
import type { Mm } from '../units';
import { compact } from './numbers';
import { anyOverlap, inRows } from './spread';

export interface SvgMeta {
  readonly title: string;
  /** The inside face is drawn mirrored. */
  readonly tracedFace: 'outside' | 'inside';
}

const rim: Mm = 5;
/** Groups in the file, below to above. */
const kinds: readonly LineKind[] = [
  'leader',
  'softBend',
  'scored',
  'valley',
  'mountain',
  'border',
  'notch',
  'cut',
];

/**
 * Writes the drawing. Panels stand as in the pattern, x to the right and y down; where they would overlap there, all
 * are moved apart into rows. Attributes `data-…` name panels, edges, folds and seams; a notch tells its distance along
 * the edge. Lettering is drawn as filled outlines with its text as title.
 */
export function writePanelsSvg(marked: MarkedPanels, meta: SvgMeta): string {
  const panels = marked.panels.filter((p) => p.panel.outlines.traced.length > 0);
  const mirrored = meta.tracedFace === 'inside';
  const apart = anyOverlap(panels);
  const still: Placing = { mirrored, angle: 0, move: { x: 0, y: 0 } };
  const boxes = panels.map((p) => inkBox(p, still));
  const moves = apart ? inRows(boxes) : panels.map(() => still.move);
  const placings = moves.map((move): Placing => ({ ...still, move }));
  const whole = panels.map((p, i) => inkBox(p, placings[i]!)).reduce(joinBoxes, boxOf([]));
  const view: Box =
    panels.length > 0
      ? { minX: whole.minX - rim, minY: whole.minY - rim, maxX: whole.maxX + rim, maxY: whole.maxY + rim }
      : { minX: 0, minY: 0, maxX: 2 * rim, maxY: 2 * rim };
  const width = view.maxX - view.minX;
  const height = view.maxY - view.minY;
  const face = mirrored ? 'inside face of the foam, mirrored' : 'outside face of the foam';
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="${compact(width)}mm" height="${compact(height)}mm" viewBox="${[view.minX, -view.maxY, width, height].map(compact).join(' ')}">`,
    `<title>${escapeText(meta.title)}</title>`,
    `<desc>Girthwise panels, ${face}. One unit is one millimetre.${apart ? ' Panels were moved apart, since they overlap as drawn.' : ''}</desc>`,
  ];
  for (const kind of kinds) lines.push(...kindGroup(kind, panels, placings));
  lines.push(...letteringGroup(panels, placings), '</svg>', '');
  return lines.join('\n');
}

function kindGroup(kind: LineKind, panels: readonly MarkedPanel[], placings: readonly Placing[]): string[] {
  const groups = panels.flatMap((marked, i) => {
    const placing = placings[i]!;
    const paths =
      kind === 'notch'
        ? marked.notches.map((n) =>
            path(
              placePoints([n.at, n.to], placing),
              false,
              ` data-seam="${escapeText(n.seam)}" data-edge="${escapeText(n.edge)}" data-along="${compact(n.along)}"`,
            ),
          )
        : marked.lines
            .filter((l) => l.kind === kind)
            .map((l) =>
              path(
                placePoints(l.points, placing),
                l.closed,
                kind === 'cut' ? '' : ` data-of="${escapeText(l.of)}"`,
              ),
            );
    return paths.length === 0 ? [] : [panelGroup(kind, marked), ...paths, '</g>'];
  });
  if (groups.length === 0) return [];
  const look = lineLooks[kind];
  const dash = look.dash.length > 0 ? ` stroke-dasharray="${look.dash.map(compact).join(' ')}"` : '';
  return [
    `<g id="${kind}" fill="none" stroke="#000000" stroke-width="${compact(look.width)}" stroke-linejoin="round"${dash}>`,
    ...groups,
    '</g>',
  ];
}

function letteringGroup(panels: readonly MarkedPanel[], placings: readonly Placing[]): string[] {
  const groups = panels.flatMap((marked, i) => {
    if (marked.lettering.length === 0) return [];
    const letters = marked.lettering.map((l) => {
      const placed = placeLettering(l, placings[i]!);
      const d = placed.rings.map((ring) => pathData(ring, true)).join('');
      return `<path data-use="${l.use}" data-of="${escapeText(l.of)}" d="${d}"><title>${escapeText(l.text)}</title></path>`;
    });
    return [panelGroup('lettering', marked), ...letters, '</g>'];
  });
  if (groups.length === 0) return [];
  return ['<g id="lettering" fill="#000000" fill-rule="nonzero" stroke="none">', ...groups, '</g>'];
}

function panelGroup(kind: LineKind, { panel }: MarkedPanel): string {
  return `<g id="${kind}-${escapeText(panel.id)}" data-panel="${escapeText(panel.id)}" data-name="${escapeText(panel.name)}">`;
}

const path = (points: readonly Point[], closed: boolean, attributes: string): string =>
  `<path${attributes} d="${pathData(points, closed)}"/>`;

/** Path data, y turned down. */
function pathData(points: readonly Point[], closed: boolean): string {
  return `M${points.map((p) => `${compact(p.x)} ${compact(-p.y)}`).join('L')}${closed ? 'Z' : ''}`;
}

function inkBox(marked: MarkedPanel, placing: Placing): Box {
  return boxOf([
    ...marked.lines.flatMap((l) => placePoints(l.points, placing)),
    ...marked.lettering.flatMap((l) => placeLettering(l, placing).rings.flat()),
  ]);
}

function escapeText(text: string): string {
  return text.replace(/[&<>"\p{Cc}]/gu, (c) => {
    switch (c) {
      case '&':
        return '&amp;';
      case '<':
        return '&lt;';
      case '>':
        return '&gt;';
      case '"':
        return '&quot;';
      default:
        return ' ';
    }
  });
}
