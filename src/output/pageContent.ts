/**
 * The drawing operators of one PDF page. Numbers are millimetres, y up, from the page's lower-left corner: one matrix at
 * the start turns them into the PDF unit of 1/72 in (ISO 32000-1, 8.3.2.1 to 8.3.4). Lines are told apart by dash and
 * weight; what belongs to the page and not to a panel is grey besides, so that panels stand out.
 */
import { type LineKind, lineLooks, type Page, type PageStroke } from '../model';
import { mmPerUnit } from '../units';
import { compact } from './numbers';

export const pointsPerMm = 1 / mmPerUnit.pt;

/** Painted in this order: page furniture below, cuts on top. */
const paintOrder: readonly LineKind[] = [
  'frame',
  'leader',
  'registration',
  'placement',
  'softBend',
  'scored',
  'valley',
  'mountain',
  'notch',
  'border',
  'lettering',
  'cut',
];

/** Grey level of page furniture; black is 0. */
const furnitureGrey = 0.45;

/** The page as operators, to be compressed. */
export function pageContent(page: Page): string {
  const k = (72 / 25.4).toFixed(10);
  const out: string[] = ['q', `${k} 0 0 ${k} 0 0 cm`, '0 J 1 j'];
  const byKind = new Map<LineKind, PageStroke[]>();
  for (const stroke of page.strokes) {
    const list = byKind.get(stroke.kind);
    if (list) list.push(stroke);
    else byKind.set(stroke.kind, [stroke]);
  }
  for (const kind of paintOrder) {
    const strokes = byKind.get(kind);
    if (!strokes) continue;
    const look = lineLooks[kind];
    out.push(`${compact(kind === 'frame' ? furnitureGrey : 0)} G ${compact(look.width)} w`);
    if (look.dash.length === 0) out.push('[] 0 d');
    const period = look.dash.reduce((sum, d) => sum + d, 0);
    for (const stroke of strokes) {
      if (stroke.points.length < 2) continue;
      if (look.dash.length > 0)
        out.push(`[${look.dash.map(compact).join(' ')}] ${compact((stroke.dashStart ?? 0) % period)} d`);
      out.push(`${pathOf(stroke.points)}${stroke.closed ? ' h' : ''} S`);
    }
  }
  out.push(`${compact(letterGrid)} 0 0 ${compact(letterGrid)} 0 0 cm 0 g`);
  for (const lettering of page.lettering) {
    const rings = lettering.rings.filter((ring) => ring.length >= 3);
    if (rings.length > 0) out.push(`${rings.map(letterPath).join('\n')} f`);
  }
  out.push('Q');
  return out.join('\n');
}

/**
 * Letters are written in whole hundredths of a millimetre, a quarter of the dot of a 600 dpi print: text is most of a
 * file, and short numbers halve it.
 */
const letterGrid = 0.01;

function letterPath(ring: PageStroke['points']): string {
  let text = '';
  for (const [i, p] of ring.entries())
    text += `${Math.round(p.x / letterGrid)} ${Math.round(p.y / letterGrid)} ${i === 0 ? 'm' : 'l'} `;
  return `${text}h`;
}

function pathOf(points: PageStroke['points']): string {
  let text = '';
  for (const [i, p] of points.entries())
    text += `${i === 0 ? '' : ' '}${compact(p.x)} ${compact(p.y)} ${i === 0 ? 'm' : 'l'}`;
  return text;
}
