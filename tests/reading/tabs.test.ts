/** Tabs: taken off on evidence, given back on request, never taken for faces or the other way round in silence. */
import { describe, expect, it } from 'vitest';
import { ringArea } from '../../src/math';
import { codes, edgeLengths, readSketch } from './sketch';

/** A box net: a row of four squares of 30 mm and a lid, with tabs round about; all bases equal. */
const tab = (x1: number, y1: number, x2: number, y2: number, h = 5, inset = h): string => {
  const d = Math.hypot(x2 - x1, y2 - y1);
  const [ux, uy] = [(x2 - x1) / d, (y2 - y1) / d];
  // Outside lies to the left of the way round with y down.
  const at = (s: number, out: number) => `${x1 + ux * s + uy * out} ${y1 + uy * s - ux * out}`;
  return `L${at(inset, h)}L${at(d - inset, h)}L${x2} ${y2}`;
};
const net =
  `<path d="M20 60L50 60L80 60${tab(80, 60, 110, 60)}L140 60${tab(140, 60, 140, 90)}L110 90${tab(110, 90, 80, 90)}L50 90${tab(50, 90, 20, 90)}L20 60Z"/>` +
  '<path class="f" d="M50 60V90"/><path class="f" d="M80 60V90"/><path class="f" d="M110 60V90"/>' +
  '<path class="f" d="M80 60H110"/><path class="f" d="M140 60V90"/><path class="f" d="M110 90H80"/><path class="f" d="M50 90H20"/>';

describe('tabs', () => {
  it('are taken off and stand on the edge that is left', () => {
    const p = readSketch(net);
    expect(p.pieces).toHaveLength(1);
    const piece = p.pieces[0]!;
    expect(piece.tabs).toHaveLength(4);
    expect(piece.faces.map((f) => ringArea(f.polygon))).toEqual([900, 900, 900, 900]);
    expect(edgeLengths(piece)).toEqual([30, 30, 30, 30, 30, 30, 30, 30, 30, 30]);
    for (const t of piece.tabs) {
      expect(piece.outline.map((e) => e.id)).toContain(t.edge);
      expect(ringArea(t.polygon)).toBeCloseTo(125, 6);
      expect(t.kept).toBe(false);
    }
    expect(p.issues.find((i) => i.code === 'tabs-stripped')!.message).toContain('4 glue tabs');
    expect(p.unread).toEqual([]);
  });

  it('come back one by one, under the same id', () => {
    const first = readSketch(net);
    const [kept] = first.pieces[0]!.tabs;
    const p = readSketch(net, { keptTabs: [kept!.id] });
    const piece = p.pieces[0]!;
    expect(piece.tabs.filter((t) => t.kept).map((t) => t.id)).toEqual([kept!.id]);
    expect(piece.faces).toHaveLength(5);
    expect(piece.folds).toHaveLength(4);
    expect(piece.outline.map((e) => e.id)).toContain(piece.tabs.find((t) => t.kept)!.edge);
    const area = (q: typeof p) => ringArea(q.pieces[0]!.outline.flatMap((e) => e.points.slice(0, -1)));
    expect(area(p) - area(first)).toBeCloseTo(125, 6);
  });

  it('stay when stripping is off', () => {
    const p = readSketch(net, { stripTabs: false });
    expect(p.pieces[0]!.faces).toHaveLength(8);
    expect(p.pieces[0]!.tabs).toEqual([]);
    expect(codes(p)).not.toContain('tabs-stripped');
  });

  it('are found when drawn as shapes of their own beside a closed outline', () => {
    const flaps = ['M80 60', 'M140 60', 'M110 90', 'M50 90']
      .map(
        (m, i) =>
          `<path class="thin" d="${m}${[tab(80, 60, 110, 60), tab(140, 60, 140, 90), tab(110, 90, 80, 90), tab(50, 90, 20, 90)][i]}Z"/>`,
      )
      .join('');
    const p = readSketch(
      `<path d="M20 60L50 60L80 60L110 60L140 60L140 90L110 90L80 90L50 90L20 90Z"/><path class="f" d="M50 60V90"/><path class="f" d="M80 60V90"/><path class="f" d="M110 60V90"/>${flaps}`,
    );
    expect(p.pieces.map((q) => q.tabs.length)).toEqual([4]);
    expect(p.pieces[0]!.faces).toHaveLength(4);
  });

  it('shorter than their edge leave one edge', () => {
    const short = (x1: number, x2: number) => `L${x1 + 4} 60L${x1 + 8} 55L${x2 - 8} 55L${x2 - 4} 60L${x2} 60`;
    const base = (x1: number, x2: number) => `<path class="f" d="M${x1 + 4} 60H${x2 - 4}"/>`;
    const p = readSketch(
      `<path d="M20 60${short(20, 60)}${short(60, 110)}${short(110, 165)}${short(165, 200)}${short(200, 230)}L230 100L200 100L165 100L110 100L60 100L20 100Z"/>` +
        base(20, 60) +
        base(60, 110) +
        base(110, 165) +
        base(165, 200) +
        base(200, 230) +
        '<path class="m" d="M60 60V100"/><path class="m" d="M110 60V100"/><path class="m" d="M165 60V100"/><path class="m" d="M200 60V100"/>',
    );
    expect(p.pieces[0]!.tabs).toHaveLength(5);
    expect(edgeLengths(p.pieces[0]!)).toEqual([40, 50, 55, 35, 30, 40, 30, 35, 55, 50, 40, 40]);
  });

  it('named as tabs need no company', () => {
    const one = (name: string) =>
      readSketch(
        `<path d="M20 60H80V100H20Z"/><path class="f" d="M50 60V100"/><path ${name} class="thin" d="M20 100L25 106H45L50 100"/>`,
      );
    expect(one('id="glue-tab-1"').pieces[0]!.tabs).toHaveLength(1);
    expect(one('id="part-1"').pieces.flatMap((p) => p.tabs)).toEqual([]);
  });
});

describe('faces', () => {
  it('that end a strip stay faces, however alike', () => {
    // Six gores, each of a square, a trapezoid and a low trapezoid at its tip, all alike.
    const gore = (x: number) =>
      `<path d="M${x} 100L${x + 30} 100L${x + 30} 70L${x + 26} 50L${x + 18} 42L${x + 12} 42L${x + 4} 50L${x} 70Z"/><path class="f" d="M${x} 70H${x + 30}"/><path class="f" d="M${x + 4} 50H${x + 26}"/>`;
    const p = readSketch([10, 50, 90, 130, 170, 210].map(gore).join(''));
    expect(p.pieces.map((q) => q.faces.length)).toEqual([3, 3, 3, 3, 3, 3]);
    expect(p.pieces.flatMap((q) => q.tabs)).toEqual([]);
    expect(codes(p)).toContain('looks-like-a-tab');
  });

  it('that are triangles on one fold stay faces', () => {
    const star =
      '<path d="M60 60L75 48L90 60L102 75L90 90L75 102L60 90L48 75Z"/><path class="f" d="M60 60H90V90H60Z"/>';
    const p = readSketch(star);
    expect(p.pieces[0]!.faces).toHaveLength(5);
    expect(p.pieces[0]!.tabs).toEqual([]);
  });

  it('with numbers along their outer sides stay faces', () => {
    const p = readSketch(
      net +
        [
          [95, 57.2, 1],
          [83, 57.8, 2],
          [107, 57.8, 3],
        ]
          .map(([x, y, n]) => `<text x="${x}" y="${y! + 1}" style="font-size:1.6px">${n}</text>`)
          .join('') +
        [
          [35, 62, 1],
          [65, 62, 2],
          [125, 62, 3],
        ]
          .map(([x, y, n]) => `<text x="${x}" y="${y! + 1}" style="font-size:1.6px">${n}</text>`)
          .join(''),
    );
    expect(p.pieces[0]!.tabs).toHaveLength(3);
    expect(p.pieces[0]!.faces).toHaveLength(5);
  });
});
