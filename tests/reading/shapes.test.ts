/** What closes, what is a hole, what is a slit: small drawings with one question each. */
import { describe, expect, it } from 'vitest';
import { ringArea } from '../../src/math';
import type { Pattern } from '../../src/model';
import { codes, edgeLengths, readSketch } from './sketch';

const areas = (p: Pattern) =>
  p.pieces.map((piece) => Math.round(piece.faces.reduce((s, f) => s + ringArea(f.polygon), 0) * 100) / 100);
const outlineArea = (p: Pattern, i = 0) =>
  Math.round(ringArea(p.pieces[i]!.outline.flatMap((e) => e.points.slice(0, -1))) * 100) / 100;

describe('one piece', () => {
  const plain = '<path d="M10 10H50V40H10Z"/><path class="f" d="M30 10V40"/>';

  it('has an outline that breaks where a fold ends, a fold and two faces', () => {
    const p = readSketch(plain);
    expect(p.pieces).toHaveLength(1);
    const piece = p.pieces[0]!;
    expect(edgeLengths(piece)).toEqual([20, 20, 30, 20, 20, 30]);
    expect(piece.outline[0]!.points[0]).toEqual({ x: 10, y: -40 });
    expect(piece.folds).toHaveLength(1);
    expect(piece.folds[0]!.points).toEqual([
      { x: 30, y: -40 },
      { x: 30, y: -10 },
    ]);
    expect(piece.faces.map((f) => ringArea(f.polygon))).toEqual([600, 600]);
    expect(p.issues).toEqual([]);
    expect(p.unread).toEqual([]);
  });

  it('has faces whose sides are its edges and folds, each once on each side', () => {
    const piece = readSketch(plain).pieces[0]!;
    const [left, right] = [piece.faces[0]!, piece.faces[1]!];
    const fold = piece.folds[0]!;
    // The fold runs upwards: the face with smaller x is to its left.
    expect(fold.left).toBe(left.polygon.every((q) => q.x <= 30) ? left.id : right.id);
    const sides = piece.faces.flatMap((f) => f.sides);
    expect(
      sides
        .filter((s) => s.kind === 'edge')
        .map((s) => s.id)
        .sort(),
    ).toEqual(piece.outline.map((e) => e.id).sort());
    expect(
      sides
        .filter((s) => s.kind === 'fold')
        .map((s) => s.forward)
        .sort(),
    ).toEqual([false, true]);
  });

  it('keeps a corner that was drawn where the outline runs straight on', () => {
    const p = readSketch('<path d="M10 10L30 10L50 10L50 40L10 40Z"/>');
    expect(edgeLengths(p.pieces[0]!)).toEqual([40, 30, 20, 20, 30]);
  });

  it('reads lines that merely form a closed shape', () => {
    const p = readSketch(
      '<line x1="50" y1="40" x2="10" y2="40"/><line x1="10" y1="10" x2="50" y2="10"/><path d="M50 10L50 40"/><path d="M10 40L10 10"/>',
    );
    expect(edgeLengths(p.pieces[0]!)).toEqual([40, 30, 40, 30]);
  });

  it('turns the drawing over when it shows the inside, and keeps the ids', () => {
    const body = '<path d="M10 10H50L60 40H10Z"/>';
    const [outside, inside] = [readSketch(body), readSketch(body, { drawnFromInside: true })];
    expect(inside.pieces[0]!.id).toBe(outside.pieces[0]!.id);
    expect(new Set(inside.pieces[0]!.outline.map((e) => e.id))).toEqual(
      new Set(outside.pieces[0]!.outline.map((e) => e.id)),
    );
    expect(outlineArea(inside)).toBe(outlineArea(outside));
    expect(inside.pieces[0]!.outline.flatMap((e) => e.points).map((q) => q.x)).toContain(240);
  });
});

describe('curves', () => {
  it('are one edge as far as they run on smoothly, and end at corners', () => {
    // Two quarter arcs that join smoothly, then two straight sides.
    const p = readSketch('<path d="M10 40A20 20 0 0 1 30 20A20 20 0 0 1 50 40L50 60L10 60Z"/>');
    const edges = p.pieces[0]!.outline;
    expect(edges.map((e) => e.curved)).toEqual(edges.map((e) => e.points.length > 2));
    expect(edges.filter((e) => e.curved)).toHaveLength(1);
    const length = edgeLengths(p.pieces[0]!)[edges.findIndex((e) => e.curved)]!;
    expect(length).toBeCloseTo(Math.PI * 20, 1);
  });

  it('break at a corner between curves', () => {
    const p = readSketch('<path d="M10 40Q20 10 30 40Q40 10 50 40L50 60L10 60Z"/>');
    expect(p.pieces[0]!.outline.filter((e) => e.curved)).toHaveLength(2);
  });

  it('break where a fold ends on them', () => {
    const p = readSketch('<path d="M10 40A20 20 0 0 1 50 40L50 60L10 60Z"/><path class="f" d="M30 20V60"/>');
    expect(p.pieces[0]!.outline.filter((e) => e.curved)).toHaveLength(2);
    expect(p.pieces[0]!.faces).toHaveLength(2);
  });

  it('may be a whole circle: one edge from a point back to itself', () => {
    const p = readSketch('<circle cx="50" cy="50" r="20"/>');
    const [edge, ...more] = p.pieces[0]!.outline;
    expect(more).toEqual([]);
    expect(edge!.points[0]).toEqual(edge!.points[edge!.points.length - 1]);
    expect(outlineArea(p)).toBeCloseTo(Math.PI * 400, -1);
  });

  it('drawn straight are straight', () => {
    const p = readSketch('<path d="M10 10C20 10 40 10 50 10L50 40L10 40Z"/>');
    expect(p.pieces[0]!.outline.map((e) => e.curved)).toEqual([false, false, false, false]);
  });
});

describe('openings, slits and pieces inside pieces', () => {
  it('reads a loop inside as an opening, clockwise', () => {
    const p = readSketch('<path d="M10 10H90V70H10Z"/><path d="M30 30H50V50H30Z"/>');
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.holes).toHaveLength(1);
    expect(ringArea(p.pieces[0]!.holes[0]!.flatMap((e) => e.points.slice(0, -1)))).toBe(-400);
    expect(p.pieces[0]!.faces[0]!.holes).toHaveLength(1);
  });

  it('reads a piece inside the opening of another', () => {
    const p = readSketch(
      '<path d="M10 10L120 20L110 120L10 110Z"/><path d="M30 30H90V90H30Z"/><path d="M40 40H80V80H40Z"/><path class="f" d="M60 40V80"/>',
    );
    expect(p.pieces.map((q) => q.faces.length).sort()).toEqual([1, 2]);
    expect(p.pieces.find((q) => q.faces.length === 1)!.holes).toHaveLength(1);
  });

  it('reads an opening whose corners folds run to', () => {
    const p = readSketch(
      '<path d="M10 10H90V70H10Z"/><path d="M40 30H60V50H40Z"/><path class="f" d="M10 10L40 30"/><path class="f" d="M90 10L60 30"/><path class="f" d="M90 70L60 50"/><path class="f" d="M10 70L40 50"/>',
    );
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.faces).toHaveLength(4);
    expect(p.pieces[0]!.holes).toHaveLength(1);
    expect(outlineArea(p)).toBe(4800);
  });

  it('walks both sides of a slit', () => {
    const p = readSketch('<path d="M10 10H90V70H10Z"/><path d="M50 10V40"/>');
    expect(p.pieces).toHaveLength(1);
    expect(edgeLengths(p.pieces[0]!)).toEqual([80, 60, 40, 30, 30, 40, 60]);
    expect(p.pieces[0]!.faces).toHaveLength(1);
    expect(codes(p)).toEqual(['slits-found']);
  });

  it('walks both sides of a slit to where folds meet', () => {
    const p = readSketch(
      '<path d="M10 10H90V70H10Z"/><path d="M50 10V40"/><path class="f" d="M10 70L50 40"/><path class="f" d="M90 70L50 40"/>',
    );
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.faces).toHaveLength(3);
    expect(p.pieces[0]!.outline).toHaveLength(7);
  });

  it('walks a slit that the outline itself walks, even where folds look like cuts', () => {
    const p = readSketch(
      '<path d="M10 10H50V40V10H90V70H10Z"/><path d="M10 70L50 40"/><path d="M90 70L50 40"/><path d="M10 100H90V120H10Z"/><path d="M50 100V120"/>',
    );
    expect(p.pieces.map((q) => [q.faces.length, q.outline.length])).toEqual([
      [3, 7],
      [2, 6],
    ]);
    const ids = p.pieces[0]!.outline.map((e) => e.id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('reads a cut line across as two pieces, a fold across as one', () => {
    expect(
      readSketch('<path d="M10 10H90V70H10Z"/><path d="M50 10V70"/><path class="f" d="M20 10V70"/>').pieces,
    ).toHaveLength(2);
    expect(readSketch('<path d="M10 10H90V70H10Z"/><path class="f" d="M50 10V70"/>').pieces).toHaveLength(1);
  });

  it('tells pieces that share a line on the page', () => {
    const p = readSketch(
      '<path d="M10 10H50V70H10Z"/><path d="M50 20H90V60H50Z"/><path class="f" d="M10 40H50"/><path class="f" d="M50 40H90"/>',
    );
    expect(areas(p)).toEqual([2400, 1600]);
    // The long side of the first is one edge on each side of its fold, whatever touches it.
    expect(edgeLengths(p.pieces[0]!)).toEqual([40, 30, 30, 40, 30, 30]);
    expect(edgeLengths(p.pieces[1]!)).toEqual([40, 20, 20, 40, 20, 20]);
  });

  it('leaves the gap between pieces that touch', () => {
    const p = readSketch(
      '<path d="M10 10H40V40H10Z"/><path d="M40 40H70V70H40Z"/><path d="M40 10L80 5L80 60L70 40Z"/><path class="f" d="M10 25H40"/><path class="f" d="M40 55H70"/><path class="f" d="M80 5L70 40"/>',
    );
    expect(p.pieces).toHaveLength(3);
    expect(areas(p).sort()).toEqual([900, 900, 950]);
  });
});

describe('flaws', () => {
  const bottom = '<path d="M10 10V40H50V10"/>';

  it('a gap beyond the join distance is reported with its place and width', () => {
    const p = readSketch(`${bottom}<path d="M10.4 10H50"/>`);
    expect(p.pieces).toEqual([]);
    expect(codes(p)).toContain('nothing-closed');
    const gap = p.issues.filter((i) => i.code === 'gap-in-outline');
    expect(gap).toHaveLength(1);
    expect(gap[0]!.message).toContain('0.40 mm');
    expect(gap[0]!.place.at!.x).toBeCloseTo(10.2, 0);
    expect(p.unread.map((u) => u.reason)).toContain('not-closed');
  });

  it('closes when the person allows joining so far', () => {
    const p = readSketch(`${bottom}<path d="M10.4 10H50"/>`, { joinWithin: 0.5 });
    expect(p.pieces).toHaveLength(1);
    expect(codes(p)).toEqual(['ends-joined']);
  });

  it('a fold that stops short is reported', () => {
    const p = readSketch(
      '<path d="M10 10H90V70H10Z"/><path class="f" d="M50 10.3V70"/><path class="f" d="M70 10V70"/>',
    );
    expect(p.pieces[0]!.faces).toHaveLength(2);
    expect(codes(p)).toContain('gap-at-fold');
    expect(p.unread).toHaveLength(1);
    expect(p.unread[0]!.reason).toBe('dangling');
  });

  it('an overshoot is cut back and said', () => {
    const p = readSketch('<path d="M10 10H90V70H10Z"/><path class="f" d="M50 9.95V70.04"/>');
    expect(p.pieces[0]!.faces).toHaveLength(2);
    expect(codes(p)).toContain('overshoot-trimmed');
    expect(edgeLengths(p.pieces[0]!)).toEqual([40, 40, 60, 40, 40, 60]);
  });

  it('a line drawn twice counts once, the stronger role wins', () => {
    const p = readSketch(
      '<path d="M10 10H90V70H10Z"/><path class="f" d="M50 10V70"/><path class="f" d="M50 70V10"/><path class="f" d="M30 10V70"/><path class="f" d="M90 10V70"/>',
    );
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.folds).toHaveLength(2);
    expect(codes(p)).toContain('duplicate-lines-dropped');
  });

  it('an empty page says so', () => {
    expect(codes(readSketch(''))).toEqual(['no-lines']);
  });

  it('lines that close nothing are unread', () => {
    const p = readSketch(
      '<path d="M10 10H90V70H10Z"/><path class="f" d="M50 10V70"/><path d="M120 20L150 50L180 20"/>',
    );
    expect(p.pieces).toHaveLength(1);
    expect(p.unread).toEqual([expect.objectContaining({ reason: 'outside-all-pieces' })]);
    expect(codes(p)).toContain('unread-lines');
  });

  it('a drawing at a tiny scale has pieces all the same', () => {
    const p = readSketch(
      '<g transform="scale(0.005)"><path d="M10 10H90V70H10Z"/><path class="f" d="M50 10V70"/></g>',
    );
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.faces).toHaveLength(2);
    expect(codes(p)).toContain('join-distance-lowered');
  });

  it('specks are not pieces', () => {
    const p = readSketch(
      '<path d="M10 10H90V70H10Z"/><path class="f" d="M50 10V70"/><path d="M120 20h1v1h-1z"/>',
    );
    expect(p.pieces).toHaveLength(1);
    expect(codes(p)).toContain('tiny-piece');
  });
});

describe("the person's word", () => {
  const body = '<path d="M10 10H90V70H10Z"/><path class="f" d="M50 10V70"/>';
  const folds = (p: Pattern) => p.groups.find((g) => g.dash.length > 0)!;

  it('about a group counts', () => {
    const key = folds(readSketch(body)).key;
    expect(readSketch(body, { groupRoles: { [key]: 'valley' } }).pieces[0]!.folds[0]!.role).toBe('valley');
    expect(readSketch(body, { groupRoles: { [key]: 'outline' } }).pieces).toHaveLength(2);
    const notes = readSketch(body, { groupRoles: { [key]: 'notes' } });
    expect(notes.pieces[0]!.folds).toEqual([]);
    expect(notes.unread).toEqual([]);
    expect(folds(notes).reason).toContain('by you');
  });

  it('about a line counts more', () => {
    const first = readSketch(body);
    const line = Object.keys(first.roleOfLine).find((id) => first.roleOfLine[id] === 'fold')!;
    const p = readSketch(body, {
      groupRoles: { [folds(first).key]: 'valley' },
      lineRoles: { [line]: 'mountain' },
    });
    expect(p.pieces[0]!.folds[0]!.role).toBe('mountain');
    expect(p.roleOfLine[line]).toBe('mountain');
  });
});
