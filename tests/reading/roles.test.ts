/** What lines mean, and what on a page is no piece. */
import { describe, expect, it } from 'vitest';
import { codes, readSketch } from './sketch';

const two = '<path d="M60 60H140V120H60Z"/><path class="m" d="M90 60V120"/><path class="v" d="M115 60V120"/>';
const roleOf = (p: ReturnType<typeof readSketch>, part: string) =>
  p.groups.filter((g) => g.label.includes(part)).map((g) => g.role);

describe('roles by look', () => {
  it('dash and dot is a mountain, plain dashes beside it a valley', () => {
    const p = readSketch(two);
    expect(p.pieces[0]!.folds.map((f) => f.role)).toEqual(['mountain', 'valley']);
    expect(roleOf(p, 'solid')).toEqual(['outline']);
  });

  it('nearly all folds in plain dashes are mountains, since a shell bulges', () => {
    const folds = (from: number, count: number, look: string) =>
      Array.from({ length: count }, (_, i) => `<path class="${look}" d="M${from + 10 * i} 60V120"/>`).join(
        '',
      );
    const strip = (dashed: number, chained: number) =>
      readSketch(
        `<path d="M60 60H${70 + 10 * (dashed + chained)}V120H60Z"/>${folds(70, dashed, 'v')}${folds(70 + 10 * dashed, chained, 'm')}`,
      ).pieces[0]!.folds.map((f) => f.role);
    expect(strip(20, 2)).toEqual([...Array(20).fill('mountain'), ...Array(2).fill('valley')]);
    expect(strip(14, 8)).toEqual([...Array(14).fill('valley'), ...Array(8).fill('mountain')]);
    expect(strip(6, 1)).toEqual([...Array(6).fill('valley'), 'mountain']);
  });

  it('plain dashes alone are folds of unknown direction', () => {
    const p = readSketch('<path d="M60 60H140V120H60Z"/><path class="v" d="M90 60V120"/>');
    expect(p.pieces[0]!.folds.map((f) => f.role)).toEqual(['unknown']);
    expect(p.groups.find((g) => g.dash.length > 0)!.proposed).toBe('fold');
  });

  it('a dashed outline is an outline', () => {
    const p = readSketch('<path class="v" d="M60 60H140V120H60Z"/><path class="thin" d="M90 60V120"/>');
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.folds).toHaveLength(1);
  });

  it('names decide where dashes do not', () => {
    const p = readSketch(
      '<path d="M60 60H140V120H60Z"/><g id="Valley folds"><path class="thin" d="M90 60V120"/></g><path id="mountain-fold-3" class="thin" d="M115 60V120"/>',
    );
    expect(p.pieces[0]!.folds.map((f) => f.role)).toEqual(['valley', 'mountain']);
  });

  it('a letter beside the word fold is enough', () => {
    const p = readSketch(
      '<path d="M60 60H140V120H60Z"/><g id="fold-m"><path class="thin" d="M90 60V120"/></g><path id="foldV" class="thin" d="M115 60V120"/>',
    );
    expect(p.pieces[0]!.folds.map((f) => f.role)).toEqual(['mountain', 'valley']);
  });

  it('the same dashes at other scales mean the same', () => {
    const p = readSketch(
      `${two}<g transform="translate(100 -60) scale(0.5)"><path d="M60 260H140V320H60Z"/><path class="m" d="M90 260V320"/><path class="v" d="M115 260V320"/></g>`,
    );
    expect(p.pieces.flatMap((q) => q.folds.map((f) => f.role))).toEqual([
      'mountain',
      'valley',
      'mountain',
      'valley',
    ]);
  });

  it('a legend wins over the dash', () => {
    const legend =
      '<path class="m" d="M10 10H30"/><text x="50" y="11" style="text-anchor:start">valley fold (ridge away from you)</text>' +
      '<path class="v" d="M10 20H30"/><text x="34" y="21" style="text-anchor:start">hill fold</text>' +
      '<path d="M10 30H30"/><text x="34" y="31" style="text-anchor:start">cut here</text>';
    const near = legend.replace('x="50"', 'x="34"');
    const p = readSketch(two + near);
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.folds.map((f) => f.role)).toEqual(['valley', 'mountain']);
    expect(codes(p)).toEqual(['legend-recognised']);
    expect(p.unread).toEqual([]);
  });

  it('folds drawn like cuts are folds inside, outlines outside', () => {
    const p = readSketch('<path d="M60 60H140V120H60Z"/><path d="M90 60V120"/><path d="M115 60V120"/>');
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.faces).toHaveLength(3);
    expect(p.pieces[0]!.folds.map((f) => f.role)).toEqual(['unknown', 'unknown']);
    expect(p.groups.map((g) => g.proposed)).toEqual(['outline']);
    expect(p.issues.find((i) => i.code === 'group-mixed')!.message).toContain('2 lines');
  });

  it('but closed outlines stay cuts where they touch', () => {
    const p = readSketch(
      '<path d="M60 60H100V120H60Z"/><path d="M100 60H140V120H100Z"/><path d="M60 90H100"/><path d="M100 90H140"/><path d="M80 60V90"/><path d="M120 60V90"/>',
    );
    expect(p.pieces.map((q) => q.faces.length)).toEqual([3, 3]);
  });

  it('faces drawn as closed shapes each make one piece', () => {
    const p = readSketch(
      '<path d="M60 60H90V120H60Z"/><path d="M90 60H115V120H90Z"/><path d="M115 60H140V120H115Z"/>',
    );
    expect(p.pieces.map((q) => q.faces.length)).toEqual([3]);
  });

  it('faces outlined like cuts under dashed folds make one piece as well', () => {
    const p = readSketch(
      '<path d="M60 60H90V120H60Z"/><path d="M90 60H115V120H90Z"/><path d="M115 60H140V120H115Z"/><path class="m" d="M90 60V120"/><path class="v" d="M115 60V120"/>',
    );
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.folds.map((f) => f.role)).toEqual(['mountain', 'valley']);
  });

  it('a filled shape behind a piece changes nothing', () => {
    const plain = readSketch(two);
    const filled = readSketch(`<path d="M60 60H140V120H60Z" style="fill:#dde;stroke:none"/>${two}`);
    expect(filled.pieces).toEqual(plain.pieces);
    expect(codes(filled)).toEqual([]);
  });
});

describe('what is no piece', () => {
  it('a page frame, even drawn like the outlines', () => {
    const p = readSketch(
      `<rect x="2" y="2" width="296" height="196"/><text x="30" y="10">Sheet 1</text>${two}`,
    );
    expect(p.pieces).toHaveLength(1);
    expect(codes(p)).toEqual(['frame-recognised']);
    expect(p.groups.find((g) => g.label === 'solid 0.5 mm')!.role).toBe('outline');
  });

  it('a double frame, and frames of stacked pages that share a line', () => {
    const double = `<rect x="1" y="1" width="298" height="198"/><rect x="4" y="4" width="292" height="192"/>${two}`;
    expect(readSketch(double).pieces).toHaveLength(1);
    const second = two.replaceAll('60V120', '140V180').replace('M60 60H140V120H60Z', 'M60 140H140V180H60Z');
    const stacked = `<rect x="2" y="2" width="290" height="125"/><rect x="2" y="127" width="290" height="70"/>${two}${second}`;
    expect(readSketch(stacked).pieces).toHaveLength(2);
  });

  it('a legend box with samples and captions', () => {
    const p = readSketch(
      `<rect x="4" y="4" width="70" height="30"/><text x="20" y="9">Legend</text><path d="M8 15H25"/><text x="28" y="16" style="text-anchor:start">cut</text><path class="m" d="M8 22H25"/><text x="28" y="23" style="text-anchor:start">valley</text>${two}`,
    );
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.folds.map((f) => f.role)).toContain('valley');
    expect(codes(p)).toContain('legend-recognised');
    expect(p.unread).toEqual([]);
  });

  it('a title box in thin lines', () => {
    const p = readSketch(
      `<rect class="thin" x="200" y="170" width="90" height="25"/><path class="thin" d="M200 180H290"/><text x="240" y="176">Gannet helm</text><text x="240" y="190">page 1 of 3</text>${two}`,
    );
    expect(p.pieces).toHaveLength(1);
    expect(codes(p)).toEqual(['box-recognised']);
  });

  it('a check square of the named size, not any square', () => {
    const square = (text: string) =>
      readSketch(`<path d="M200 60h50v50h-50z"/><text x="225" y="86">${text}</text>${two}`);
    expect(square('50 mm').pieces).toHaveLength(1);
    expect(codes(square('check: 5 cm'))).toEqual(['check-square-recognised']);
    expect(square('60 mm').pieces).toHaveLength(2);
    expect(square('Left').pieces.map((q) => q.name)).toContain('Left');
  });

  it('a scale bar', () => {
    const bar =
      '<path d="M20 180H120"/><path d="M20 178V182"/><path d="M120 178V182"/><text x="70" y="176">100 mm</text>';
    const p = readSketch(bar + two);
    expect(p.pieces).toHaveLength(1);
    expect(codes(p)).toEqual(['scale-bar-recognised']);
    const boxes =
      '<rect x="20" y="178" width="50" height="4"/><rect x="70" y="178" width="50" height="4"/><text x="70" y="176">10 cm</text>';
    expect(readSketch(boxes + two).pieces).toHaveLength(1);
  });

  it('a piece that is a rectangle with a name and openings is a piece', () => {
    const p = readSketch(
      '<rect x="10" y="10" width="120" height="60"/><rect x="30" y="25" width="20" height="20"/><rect x="80" y="25" width="20" height="20"/><text x="65" y="40">Strap</text>',
    );
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.holes).toHaveLength(2);
    expect(p.pieces[0]!.name).toBe('Strap');
  });

  it('arrows and leaders in a look of their own', () => {
    const p = readSketch(
      `${two}<path class="thin" d="M20 20L70 70"/><path class="thin" d="M66 70L70 70L70 66"/><path class="thin" d="M150 90L100 90"/>`,
    );
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.faces).toHaveLength(3);
    expect(p.groups.find((g) => g.label.includes('0.1 mm'))!.role).toBe('notes');
  });
});

describe('what lies behind and between', () => {
  it('graph paper ties nothing together', () => {
    const grid =
      [...Array(30).keys()].map((i) => `<path class="thin" d="M${10 * i} 0V200"/>`).join('') +
      [...Array(20).keys()].map((i) => `<path class="thin" d="M0 ${10 * i}H300"/>`).join('');
    const p = readSketch(grid + two);
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.faces).toHaveLength(3);
    expect(p.unread).toEqual([]);
  });

  it('letters drawn as filled shapes are no pieces and no openings', () => {
    const letters =
      '<g style="fill:#000;stroke:none"><path style="fill:#000;stroke:none" d="M70 70h2v6h-2z"/><path style="fill:#000;stroke:none" d="M200 20h6v8h-6z"/><path style="fill:#000;stroke:none" d="M210 20h6v8h-6z"/></g>';
    const p = readSketch(letters + two);
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.holes).toEqual([]);
  });

  it('pieces drawn as filled shapes alone are pieces', () => {
    const p = readSketch(
      '<path d="M60 60H140V120H60Z" style="fill:#dde;stroke:none"/><path class="f" d="M90 60V120"/>',
    );
    expect(p.pieces).toHaveLength(1);
    expect(p.pieces[0]!.faces).toHaveLength(2);
  });

  it('a frame round pieces without folds, drawn like them, when it runs along the page', () => {
    const loops =
      '<path d="M60 60L90 60L80 100L60 90Z"/><path d="M120 60L150 65L150 110L120 90Z"/><path d="M200 60L230 60L240 100L200 90Z"/>';
    expect(readSketch(`<rect x="5" y="5" width="290" height="190"/>${loops}`).pieces).toHaveLength(3);
    const plate = readSketch(`<rect x="45" y="45" width="210" height="100"/>${loops}`);
    expect(plate.pieces).toHaveLength(1);
    expect(plate.pieces[0]!.holes).toHaveLength(3);
  });

  it('outlines of many colours', () => {
    const p = readSketch(
      '<path style="stroke:#a00" d="M20 20H60V60H20Z"/><path style="stroke:#0a0" d="M80 20H120V60H80Z"/><path class="f" style="stroke:#a00" d="M40 20V60"/><path class="f" style="stroke:#0a0" d="M100 20V60"/>',
    );
    expect(p.pieces.map((q) => q.faces.length)).toEqual([2, 2]);
  });

  it('a group of the file named after a part of the shell says nothing about its lines', () => {
    const p = readSketch(
      `<g id="ridge left"><path d="M20 20H60V60H20Z"/><path class="f" d="M40 20V60"/></g><g id="window"><path d="M80 20H120V60H80Z"/><path class="f" d="M100 20V60"/></g>`,
    );
    expect(p.pieces.map((q) => q.faces.length)).toEqual([2, 2]);
    expect(p.pieces.flatMap((q) => q.folds.map((f) => f.role))).toEqual(['unknown', 'unknown']);
  });
});

describe('style groups', () => {
  it('are made of the look alone and name a typical line', () => {
    const p = readSketch(two);
    expect(p.groups.map((g) => g.count)).toEqual([1, 1, 1]);
    for (const g of p.groups) {
      expect(p.roleOfLine[g.sampleLine]).toBe(g.role);
      expect(g.reason).toMatch(/\.$/);
    }
    const more = readSketch(`${two}<path class="m" d="M150 10V20"/>`);
    expect(more.groups.map((g) => g.key)).toEqual(p.groups.map((g) => g.key));
  });

  it('do not split by ids and numbered classes of single elements', () => {
    const p = readSketch(
      '<path id="cut1" class="piece-1" d="M10 10H40V40H10Z"/><path id="cut2" class="piece-2" d="M60 10H90V40H60Z"/><path class="f e7" d="M25 10V40"/><path class="f e8" d="M75 10V40"/>',
    );
    expect(p.groups.map((g) => g.count)).toEqual([2, 2]);
  });
});
