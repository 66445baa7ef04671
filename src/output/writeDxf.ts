/**
 * Panels as a DXF drawing for cutters, release 12 in text form: the oldest that everything reads. The release has no
 * word for units: one unit is one millimetre, which a comment at the start says. One layer per kind of work, marks
 * before cuts and inner cuts before outer ones. No clock and no chance: the same panels give the same bytes.
 */
import { type Box, boxOf, type Point } from '../math';
import {
  type LineKind,
  lineLooks,
  type MarkedPanels,
  placeLettering,
  placePoints,
  type Sheet,
} from '../model';
import type { Mm } from '../units';
import { ringsInCutOrder } from './cutOrder';
import { withLeadIns } from './leadIn';
import { asDrawn, onSheet, type PlacedPanel } from './placed';
import { strokeLettering } from './strokeLetters';

export interface DxfMeta {
  readonly title: string;
  /** The inside face is drawn mirrored (panels as drawn; on a sheet the placements say it). */
  readonly tracedFace: 'outside' | 'inside';
  /** Letters as closed outlines, or as single lines for a pen. Texts that the pen's alphabet lacks stay outlines. */
  readonly lettering: 'outlines' | 'strokes';
  /** Length of the lead-in of every cut; 0: none. */
  readonly leadIn: Mm;
}

/** Layers in the order of the work. */
export const dxfLayers = ['TEXT', 'BEVEL', 'MARKS', 'FOLD', 'SCORE', 'CUT'] as const;
export type DxfLayer = (typeof dxfLayers)[number];

/** What is drawn on which layer; lettering and cuts go by their own rules. */
const layerOf: Readonly<Partial<Record<LineKind, DxfLayer>>> = {
  notch: 'MARKS',
  leader: 'MARKS',
  border: 'MARKS',
  mountain: 'FOLD',
  valley: 'FOLD',
  softBend: 'FOLD',
  scored: 'SCORE',
  placement: 'MARKS',
};

interface Path {
  readonly layer: DxfLayer;
  /** Name of a line type, or empty for continuous. */
  readonly dash: string;
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/** Panels as they stand in the pattern, or moved apart where they overlap there: as in the panels' SVG. */
export function writePanelsDxf(marked: MarkedPanels, meta: DxfMeta): string {
  const face =
    meta.tracedFace === 'inside' ? 'inside face of the foam, mirrored' : 'outside face of the foam';
  return write(asDrawn(marked, meta.tracedFace === 'inside').placed, meta, `panels, ${face}`);
}

/**
 * One sheet of foam, its lower-left corner at the origin.
 * @throws GirthwiseError `sheet-panel-unknown`, see {@link onSheet}.
 */
export function writeSheetDxf(sheet: Sheet, marked: MarkedPanels, meta: DxfMeta): string {
  const size = `${real(sheet.width)} x ${real(sheet.height)} mm, foam ${real(sheet.thickness)} mm`;
  return write(onSheet(sheet, marked), meta, `${sheet.name}, ${size}`);
}

function write(placed: readonly PlacedPanel[], meta: DxfMeta, what: string): string {
  const paths = pathsOf(placed, meta);
  const box: Box = paths.length > 0 ? boxOf(paths.flatMap((p) => p.points)) : boxOf([{ x: 0, y: 0 }]);
  const dashes = [...new Set(paths.map((p) => p.dash))].filter((d) => d !== '').sort();
  const lines: (string | number)[] = [999, `${plain(meta.title)}: ${plain(what)}. Girthwise, 1 unit = 1 mm`];
  const put = (...pairs: (string | number)[]) => void lines.push(...pairs);
  put(0, 'SECTION', 2, 'HEADER', 9, '$ACADVER', 1, 'AC1009');
  put(9, '$EXTMIN', 10, real(box.minX), 20, real(box.minY), 30, '0.0');
  put(9, '$EXTMAX', 10, real(box.maxX), 20, real(box.maxY), 30, '0.0', 0, 'ENDSEC');
  put(0, 'SECTION', 2, 'TABLES', 0, 'TABLE', 2, 'LTYPE', 70, dashes.length + 1);
  put(0, 'LTYPE', 2, 'CONTINUOUS', 70, 0, 3, 'Solid line', 72, 65, 73, 0, 40, '0.0');
  for (const name of dashes) {
    const { label, dash } = lineLooks[dashKinds[name]!];
    put(0, 'LTYPE', 2, name, 70, 0, 3, label, 72, 65, 73, dash.length, 40, real(sum(dash)));
    for (const [i, d] of dash.entries()) put(49, real(i % 2 === 0 ? d : -d));
  }
  put(0, 'ENDTAB', 0, 'TABLE', 2, 'LAYER', 70, dxfLayers.length);
  for (const layer of dxfLayers) put(0, 'LAYER', 2, layer, 70, 0, 62, 7, 6, 'CONTINUOUS');
  put(0, 'ENDTAB', 0, 'ENDSEC', 0, 'SECTION', 2, 'ENTITIES');
  for (const { layer, dash, points, closed } of paths) {
    const look = dash === '' ? [] : [6, dash];
    put(0, 'POLYLINE', 8, layer, ...look, 66, 1, 10, '0.0', 20, '0.0', 30, '0.0', 70, closed ? 1 : 0);
    for (const p of points) put(0, 'VERTEX', 8, layer, 10, real(p.x), 20, real(p.y), 30, '0.0');
    put(0, 'SEQEND', 8, layer);
  }
  put(0, 'ENDSEC', 0, 'EOF');
  return `${lines.join('\n')}\n`;
}

/** Line types by name. */
const dashKinds: Readonly<Record<string, LineKind>> = {
  MOUNTAIN: 'mountain',
  VALLEY: 'valley',
  SOFTBEND: 'softBend',
  SCORED: 'scored',
  PLACEMENT: 'placement',
};

function pathsOf(placed: readonly PlacedPanel[], { lettering, leadIn }: DxfMeta): Path[] {
  const marks: Path[] = [];
  const cuts: (readonly Point[])[] = [];
  for (const { marked, placing } of placed) {
    for (const own of marked.lettering) {
      const placedText = placeLettering(own, placing);
      const layer = own.use === 'bevel' ? 'BEVEL' : 'TEXT';
      const strokes = lettering === 'strokes' ? strokeLettering(placedText) : null;
      for (const points of strokes ?? placedText.rings)
        marks.push({ layer, dash: '', points, closed: strokes === null });
    }
    for (const notch of marked.notches)
      marks.push({
        layer: 'MARKS',
        dash: '',
        points: placePoints([notch.at, notch.to], placing),
        closed: false,
      });
    for (const line of marked.lines) {
      const layer = layerOf[line.kind];
      if (!layer) continue;
      const dash = Object.keys(dashKinds).find((name) => dashKinds[name] === line.kind) ?? '';
      marks.push({ layer, dash, points: placePoints(line.points, placing), closed: line.closed });
    }
    const outlines = marked.lines.filter((l) => l.kind === 'cut').map((l) => l.points);
    for (const ring of ringsInCutOrder(outlines)) cuts.push(placePoints(ring, placing));
  }
  marks.sort((a, b) => dxfLayers.indexOf(a.layer) - dxfLayers.indexOf(b.layer));
  const led = withLeadIns(cuts, leadIn).map((cut): Path => ({ layer: 'CUT', dash: '', ...cut }));
  return [...marks, ...led];
}

/** A real number: always with a point, six decimals at most. */
function real(value: number): string {
  const text = value.toFixed(6).replace(/0+$/, '');
  const padded = text.endsWith('.') ? `${text}0` : text;
  return padded === '-0.0' ? '0.0' : padded;
}

/** Release 12 knows neither line breaks in a value nor letters beyond its code page: those are left out. */
const plain = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/[^\x20-\x7e]/g, '')
    .trim();

const sum = (values: readonly number[]) => values.reduce((total, v) => total + v, 0);
