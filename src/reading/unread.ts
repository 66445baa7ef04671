/** Lines that should have been part of a piece and are not. */
import { distance, type Point } from '../math';
import type { Drawing, LineRole, UnreadLine } from '../model';
import type { Mm } from '../units';
import type { RawPiece } from './assemble';
import type { Ink } from './ink';
import { isStructural } from './lineRoles';
import type { Sheets } from './sheets';

/** One entry for each line, at the middle of its longest unread stretch; lines mostly read are left out. */
export function unreadLines(
  drawing: Drawing,
  ink: Ink,
  sheets: Sheets,
  roles: readonly LineRole[],
  specks: readonly RawPiece[],
): UnreadLine[] {
  interface Missing {
    length: Mm;
    longest: Mm;
    at: Point;
    reason: UnreadLine['reason'];
  }
  const missing = new Map<number, Missing>();
  const miss = (strokes: readonly number[], a: Point, b: Point, reason: UnreadLine['reason']) => {
    const d = distance(a, b);
    for (const line of new Set(strokes.map((k) => ink.strokes[k >> 1]!.line))) {
      if (!isStructural(roles[line]!)) continue;
      const m = missing.get(line) ?? { length: 0, longest: -1, at: a, reason };
      m.length += d;
      if (d > m.longest) {
        m.longest = d;
        m.at = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
        m.reason = reason;
      }
      missing.set(line, m);
    }
  };
  for (const l of sheets.left) miss(l.strokes, l.a, l.b, l.reason);
  for (const p of specks)
    for (const e of p.outline)
      for (const h of e.halfEdges)
        miss(
          sheets.s.links[h >> 1]!.strokes,
          sheets.s.nodes[sheets.s.origin[h]!]!,
          sheets.s.nodes[sheets.s.origin[h ^ 1]!]!,
          'outside-all-pieces',
        );
  const out: UnreadLine[] = [];
  drawing.lines.forEach((line, i) => {
    const role = roles[i]!;
    if (!isStructural(role)) return;
    const own = ink.lines[i]!;
    if (own.strokes.length === 0) {
      out.push({ line: line.id, at: own.start, reason: 'zero-length', length: 0 });
      return;
    }
    const m = missing.get(i);
    if (m && m.length > 0.02 * own.length)
      out.push({ line: line.id, at: m.at, reason: m.reason, length: m.length });
  });
  return out;
}
