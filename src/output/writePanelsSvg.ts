/**
 * The panels as one SVG drawing in millimetres: one group per kind of line, in it one group per panel, so that a cutter
 * or a drawing program can pick a kind and still tell the panels apart. Each outline is one path, closed
 * unless it starts with a lead-in.
 */
import { type Box, boxOf, joinBoxes, type Point } from '../math';
import {
  type LineKind,
  lineLooks,
  type MarkedPanel,
  type MarkedPanels,
  placeLettering,
  placePoints,
  type Sheet,
} from '../model';
import type { Mm } from '../units';
import { ringsInCutOrder } from './cutOrder';
import { type CutPath, withLeadIns } from './leadIn';
import { compact } from './numbers';
import { asDrawn, inkBox, onSheet, type PlacedPanel } from './placed';
import { strokeLettering } from './strokeLetters';

export interface SvgMeta {
  readonly title: string;
  /** The inside face is drawn mirrored. */
  readonly tracedFace: 'outside' | 'inside';
  /**
   * Letters as filled outlines, or as single lines for a pen in groups of their own; texts that the pen's alphabet lacks
   * stay outlines. Absent: outlines.
   */
  readonly lettering?: 'outlines' | 'strokes';
  /** Length of the lead-in of every cut; absent or 0: none. */
  readonly leadIn?: Mm;
}

const rim: Mm = 5;
/** Groups in the file, below to above. */
const kinds: readonly LineKind[] = [
  'leader',
  'placement',
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
 * the edge. Lettering is drawn as filled outlines or as single lines, one path for a text with the text as its title,
 * bevels in a group of their own. Inner outlines come before outer ones.
 */
export function writePanelsSvg(marked: MarkedPanels, meta: SvgMeta): string {
  const { placed, apart } = asDrawn(marked, meta.tracedFace === 'inside');
  const whole = placed.map((p) => inkBox(p.marked, p.placing)).reduce(joinBoxes, boxOf([]));
  const view: Box =
    placed.length > 0
      ? { minX: whole.minX - rim, minY: whole.minY - rim, maxX: whole.maxX + rim, maxY: whole.maxY + rim }
      : { minX: 0, minY: 0, maxX: 2 * rim, maxY: 2 * rim };
  const note = apart ? ' Panels were moved apart, since they overlap as drawn.' : '';
  return drawing(placed, view, meta, note);
}

/**
 * Writes one sheet of foam: the same groups, the drawing as large as the sheet, its lower-left corner at the sheet's.
 * @throws GirthwiseError `sheet-panel-unknown`, see {@link onSheet}.
 */
export function writeSheetSvg(sheet: Sheet, marked: MarkedPanels, meta: SvgMeta): string {
  const view: Box = { minX: 0, minY: 0, maxX: sheet.width, maxY: sheet.height };
  const note = ` ${sheet.name}, ${compact(sheet.thickness)} mm foam.`;
  return drawing(onSheet(sheet, marked), view, meta, note);
}

function drawing(placed: readonly PlacedPanel[], view: Box, meta: SvgMeta, note: string): string {
  const width = view.maxX - view.minX;
  const height = view.maxY - view.minY;
  const face =
    meta.tracedFace === 'inside' ? 'inside face of the foam, mirrored' : 'outside face of the foam';
  const lines = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="${compact(width)}mm" height="${compact(height)}mm" viewBox="${[view.minX, -view.maxY, width, height].map(compact).join(' ')}">`,
    `<title>${escapeText(meta.title)}</title>`,
    `<desc>Girthwise panels, ${face}. One unit is one millimetre.${escapeText(note)}</desc>`,
  ];
  const cuts = cutPaths(placed, meta.leadIn ?? 0);
  for (const kind of kinds) lines.push(...kindGroup(kind, placed, cuts));
  // A cutter may leave the bevels out, or write them with another tool: they are a group of their own.
  for (const group of ['bevel', 'lettering'] as const) {
    const texts = textsOf(group, placed, meta.lettering === 'strokes');
    lines.push(
      ...letteringGroup(group, texts.lines, lineLettering),
      ...letteringGroup(group, texts.outlines, ''),
    );
  }
  lines.push('</svg>', '');
  return lines.join('\n');
}

/** The outlines of every panel where it lies, in the order of cutting. */
function cutPaths(placed: readonly PlacedPanel[], leadIn: Mm): ReadonlyMap<PlacedPanel, readonly CutPath[]> {
  const rings = placed.map(({ marked, placing }) => {
    const outlines = marked.lines.filter((l) => l.kind === 'cut').map((l) => l.points);
    return ringsInCutOrder(outlines).map((ring) => placePoints(ring, placing));
  });
  const led = withLeadIns(rings.flat(), leadIn);
  return new Map(placed.map((p, i) => [p, led.splice(0, rings[i]!.length)]));
}

function kindGroup(
  kind: LineKind,
  placed: readonly PlacedPanel[],
  cuts: ReadonlyMap<PlacedPanel, readonly CutPath[]>,
): string[] {
  const groups = placed.flatMap((one) => {
    const { marked, placing, key } = one;
    const paths =
      kind === 'notch'
        ? marked.notches.map((n) =>
            path(
              placePoints([n.at, n.to], placing),
              false,
              ` data-seam="${escapeText(n.seam)}" data-edge="${escapeText(n.edge)}" data-along="${compact(n.along)}"`,
            ),
          )
        : kind === 'cut'
          ? cuts.get(one)!.map(({ points, closed }) => path(points, closed, ''))
          : marked.lines
              .filter((l) => l.kind === kind)
              .map((l) => path(placePoints(l.points, placing), l.closed, ` data-of="${escapeText(l.of)}"`));
    return paths.length === 0 ? [] : [panelGroup(kind, marked, key), ...paths, '</g>'];
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

/** The letters of one panel as paths. */
interface PanelTexts {
  readonly marked: MarkedPanel;
  readonly key: string;
  readonly paths: readonly string[];
}

/** Bevels or all other texts: those that are single lines, and those that are outlines. */
function textsOf(
  group: 'bevel' | 'lettering',
  placed: readonly PlacedPanel[],
  single: boolean,
): { readonly lines: readonly PanelTexts[]; readonly outlines: readonly PanelTexts[] } {
  const panels = placed.map(({ marked, placing, key }) => {
    const [lines, outlines]: [string[], string[]] = [[], []];
    for (const own of marked.lettering) {
      if ((own.use === 'bevel') !== (group === 'bevel')) continue;
      const text = placeLettering(own, placing);
      const strokes = single ? strokeLettering(text) : null;
      const d = (strokes ?? text.rings).map((line) => pathData(line, strokes === null)).join('');
      (strokes ? lines : outlines).push(
        `<path data-use="${own.use}" data-of="${escapeText(own.of)}" d="${d}"><title>${escapeText(own.text)}</title></path>`,
      );
    }
    return { marked, key, lines, outlines };
  });
  return {
    lines: panels.map(({ marked, key, lines: paths }) => ({ marked, key, paths })),
    outlines: panels.map(({ marked, key, outlines: paths }) => ({ marked, key, paths })),
  };
}

/** What the names of groups of single lines end in: a pen or a mild laser takes them apart from the outlines. */
const lineLettering = 'Lines';

function letteringGroup(
  group: 'bevel' | 'lettering',
  texts: readonly PanelTexts[],
  ending: '' | typeof lineLettering,
): string[] {
  const groups = texts.flatMap(({ marked, key, paths }) =>
    paths.length === 0 ? [] : [panelGroup(`${group}${ending}`, marked, key), ...paths, '</g>'],
  );
  if (groups.length === 0) return [];
  const look =
    ending === ''
      ? 'fill="#000000" fill-rule="nonzero" stroke="none"'
      : `fill="none" stroke="#000000" stroke-width="${compact(lineLooks.lettering.width)}" stroke-linecap="round" stroke-linejoin="round"`;
  return [`<g id="${group}${ending}" ${look}>`, ...groups, '</g>'];
}

function panelGroup(kind: string, { panel }: MarkedPanel, key: string): string {
  return `<g id="${kind}-${escapeText(key)}" data-panel="${escapeText(panel.id)}" data-name="${escapeText(panel.name)}">`;
}

const path = (points: readonly Point[], closed: boolean, attributes: string): string =>
  `<path${attributes} d="${pathData(points, closed)}"/>`;

/** Path data, y turned down. */
function pathData(points: readonly Point[], closed: boolean): string {
  return `M${points.map((p) => `${compact(p.x)} ${compact(-p.y)}`).join('L')}${closed ? 'Z' : ''}`;
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
