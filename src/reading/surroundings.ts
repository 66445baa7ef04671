/**
 * What on the page is not a piece: page frames, legends, title boxes, check squares and scale bars. Works on the
 * blocks and scraps of the whole drawing; answers which lines stand aside and what the legend says.
 */
import type { Issue } from '../base';
import { type Box, distance, type Point } from '../math';
import type { DrawingText } from '../model';
import type { Mm } from '../units';
import { addLength, type Block, type Blocks } from './blocks';
import { isSheetWording, isWording, namedLengths } from './captions';
import { counted, finding } from './findings';
import type { Ink } from './ink';
import { type AsideKind, type LegendEntry, readLegend } from './legend';
import type { LookGroup } from './styleGroups';
import { namedSizeSlack } from './tolerance';

export interface Surroundings {
  /** Lines (by index) that belong to no piece. */
  readonly aside: ReadonlyMap<number, AsideKind>;
  readonly asideBlocks: ReadonlyMap<number, AsideKind>;
  readonly legend: readonly LegendEntry[];
  /** Texts that are captions, titles or named sizes. */
  readonly captions: ReadonlySet<number>;
  readonly issues: readonly Issue[];
}

/** Folded parts that fill this share of a closed part make it a frame; smaller ones may be a drawing on a piece. */
const heldShare = 0.05;

/** A page frame keeps within this part of the page's width and height from its borders. */
const pageMargin = 0.1;

/** A closed part that fills its upright box to this share is boxy enough to be a page with more drawn across it. */
const boxShare = 0.9;

export function findSurroundings(
  found: Blocks,
  ink: Ink,
  groupOf: readonly LookGroup[],
  page: { readonly width: Mm; readonly height: Mm },
): Surroundings {
  const sorter = new Sorter(found, ink, groupOf, page);
  return sorter.result();
}

class Sorter {
  private readonly kinds = new Map<number, AsideKind>();
  private readonly asideLines = new Map<number, AsideKind>();
  private readonly legend: LegendEntry[] = [];
  private readonly captions = new Set<number>();
  private readonly issues: Issue[] = [];
  /** Blocks taken for pieces. */
  private readonly pieces = new Set<number>();
  private readonly blocks: readonly Block[];
  /** Texts that name a length. */
  private readonly sizeTexts: readonly {
    readonly t: DrawingText;
    readonly i: number;
    readonly named: readonly Mm[];
  }[];
  /** Looks of lines in blocks that have inner lines, which only pieces have. */
  private readonly pieceLooks = new Set<string>();

  constructor(
    private readonly found: Blocks,
    private readonly ink: Ink,
    private readonly groupOf: readonly LookGroup[],
    private readonly page: { readonly width: Mm; readonly height: Mm },
  ) {
    this.blocks = found.blocks;
    this.sizeTexts = ink.texts.flatMap((t, i) => {
      const named = namedLengths(t.text);
      return named.length > 0 ? [{ t, i, named }] : [];
    });
    for (const b of this.blocks) {
      const looks = new Set([...b.lines.keys()].map((line) => groupOf[line]!.key));
      if (b.faces.length > 1 && (!b.rectangles || looks.size > 1))
        for (const k of looks) this.pieceLooks.add(k);
    }
  }

  /** Sorts the blocks that lie directly in empty space within block `outside` (−1: on the page). */
  private sortFrom(outside: number): void {
    const here =
      outside >= 0
        ? this.blocks[outside]!.children
        : this.blocks.flatMap((b, i) => (b.within < 0 ? [i] : []));
    for (const i of here) {
      const b = this.blocks[i]!;
      if (this.isFrame(i, here)) {
        this.kinds.set(i, 'frame');
        this.sortFrom(i);
        continue;
      }
      const kind = this.isCheckSquare(b)
        ? 'checkSquare'
        : this.isScaleBar(b)
          ? 'scaleBar'
          : this.isBox(i)
            ? 'box'
            : null;
      if (kind) {
        this.kinds.set(i, kind);
        for (const inner of this.below(i)) this.kinds.set(inner, kind);
        continue;
      }
      this.pieces.add(i);
      // What lies in a piece is a hole; what lies in a hole may be a piece again.
      for (const hole of b.children) this.sortFrom(hole);
    }
  }

  private below(i: number): number[] {
    return this.blocks[i]!.children.flatMap((c) => [c, ...this.below(c)]);
  }

  private senses(b: Block): Set<string> {
    const out = new Set<string>();
    for (const line of b.lines.keys()) {
      const naming = this.groupOf[line]!.named;
      if (naming) out.add(naming.sense);
    }
    return out;
  }

  private isFrame(index: number, here: readonly number[]): boolean {
    const b = this.blocks[index]!;
    if (b.children.length === 0) return false;
    // Letters drawn as filled shapes lie on pieces as well as on pages.
    const kids = b.children.map((c) => this.blocks[c]!).filter((k) => this.hasStroke(k));
    if (kids.length === 0) return false;
    // Pieces with folds inside a face: no piece holds that, even where other lines cross the frame.
    const folded = kids.filter((k) => k.faces.length > 1);
    if (b.faces.length === 1 || b.rectangles) {
      if (folded.length > 0) return true;
    } else {
      const real = folded.filter((k) => !k.rectangles);
      if (real.reduce((sum, k) => sum + k.area, 0) >= heldShare * b.area) return true;
      const { minX, minY, maxX, maxY } = b.box;
      if (folded.length > 1 && b.area >= boxShare * (maxX - minX) * (maxY - minY)) return true;
    }
    if (!b.rectangles) return false;
    const senses = this.senses(b);
    if (senses.has('frame') || senses.has('legend') || senses.has('notes')) return true;
    if (kids.some((k) => k.children.length > 0)) {
      const all = this.below(index).length;
      if (all * 3 >= (this.blocks.length - 1) * 2) return true;
    }
    const looks = new Set([...b.lines.keys()].map((l) => this.groupOf[l]!.key));
    const kidLooks = new Set(kids.flatMap((k) => [...k.lines.keys()].map((l) => this.groupOf[l]!.key)));
    if ([...looks].every((l) => !kidLooks.has(l)) && !this.hasPieceLook(b)) return true;
    if (kids.length > 1 && this.runsAlongPage(b)) return true;
    // Pages of one size that together hold nearly everything.
    const twins = here
      .map((i) => this.blocks[i]!)
      .filter((o) => o.rectangles && o.children.length > 0 && sameSize(o, b));
    const held = twins.reduce((n, t) => n + t.children.length, 0);
    const others = here.length - twins.length;
    return twins.length >= 2 && held >= 4 * Math.max(1, others) && held > 2 * twins.length;
  }

  /** All four sides near the borders of the drawing's page. */
  private runsAlongPage({ box }: Block): boolean {
    const { width, height } = this.page;
    const [dx, dy] = [pageMargin * width, pageMargin * height];
    return box.minX <= dx && box.maxX >= width - dx && box.maxY >= -dy && box.minY <= dy - height;
  }

  private hasStroke(b: Block): boolean {
    return [...b.lines.keys()].some((l) => this.ink.lines[l]!.line.style.stroke !== '');
  }

  private hasPieceLook(b: Block): boolean {
    return [...b.lines.keys()].some((l) => this.pieceLooks.has(this.groupOf[l]!.key));
  }

  /** Rectangles that hold words or line samples and no piece. */
  private isBox(index: number): boolean {
    const b = this.blocks[index]!;
    const senses = this.senses(b);
    const noteWords = senses.has('legend') || senses.has('notes') || senses.has('frame');
    const inside = this.below(index).map((c) => this.blocks[c]!);
    if (inside.some((k) => k.faces.length > 1 && !k.rectangles)) return false;
    if (noteWords && !this.hasPieceLook(b)) return true;
    if (!b.rectangles) return false;
    const texts = b.texts.map((t) => this.ink.texts[t]!.text);
    const wordings = texts.filter(isWording).length;
    const sheetTexts = texts.filter(isSheetWording).length;
    const samples = this.found.scraps.some((s) => s.within === index);
    if (sheetTexts > 0 && samples) return true;
    if (this.pieceLooks.size > 0 && !this.hasPieceLook(b)) return wordings > 0 || samples;
    return (sheetTexts > 0 && wordings > 1) || wordings > 2;
  }

  private isCheckSquare(b: Block): boolean {
    if (b.faces.length !== 1 || b.corners.length !== 4 || !b.rectangles) return false;
    const w = distance(b.corners[0]!, b.corners[1]!);
    const h = distance(b.corners[1]!, b.corners[2]!);
    if (Math.abs(w - h) > namedSizeSlack * w) return false;
    return this.nameSize([w], (t) => insideBox(t.centre, b.box, 0.4 * w));
  }

  private isScaleBar(b: Block): boolean {
    if (!b.rectangles || b.corners.length !== 4) return false;
    const sides = [distance(b.corners[0]!, b.corners[1]!), distance(b.corners[1]!, b.corners[2]!)];
    const long = Math.max(...sides);
    if (Math.min(...sides) > 0.2 * long) return false;
    return this.nameSize([long], (t) => insideBox(t.centre, b.box, Math.max(3 * t.size, 0.15 * long)));
  }

  /** True when a text near enough names one of the lengths; the text becomes a caption. */
  private nameSize(lengths: readonly Mm[], near: (t: DrawingText) => boolean): boolean {
    let hit = false;
    for (const { t, i, named } of this.sizeTexts) {
      if (!near(t)) continue;
      if (named.some((n) => lengths.some((d) => Math.abs(n - d) <= namedSizeSlack * n))) {
        this.captions.add(i);
        hit = true;
      }
    }
    return hit;
  }

  /** Line samples beside captions, scale bars drawn as open lines. */
  private sortScraps(): void {
    const legend = readLegend(this.found, this.ink, this.pieces, (long, box) =>
      this.nameSize([long], (t) => insideBox(t.centre, box, Math.max(3 * t.size, 0.15 * long))),
    );
    for (const [line, kind] of legend.lines) this.asideLines.set(line, kind);
    for (const block of legend.swatches) {
      this.kinds.set(block, 'legend');
      this.pieces.delete(block);
    }
    for (const t of legend.captions) this.captions.add(t);
    this.legend.push(...legend.entries);
  }

  private report(): void {
    const of = (kind: AsideKind) =>
      [...this.kinds].filter(([, k]) => k === kind).map(([i]) => this.blocks[i]!);
    const say = (kind: AsideKind, code: string, sentence: (n: number) => string) => {
      const found = of(kind);
      if (found.length > 0)
        this.issues.push(
          finding(
            'note',
            code,
            sentence(found.length),
            'If it is a piece after all, mark its lines as outline.',
            middleOf(found[0]!.box),
          ),
        );
    };
    say(
      'frame',
      'frame-recognised',
      (n) => `${counted(n, 'frame')} round other pieces ${n === 1 ? 'is' : 'are'} not read as a piece.`,
    );
    say(
      'box',
      'box-recognised',
      (n) => `${counted(n, 'box', 'boxes')} with wording ${n === 1 ? 'is' : 'are'} not read as a piece.`,
    );
    say(
      'checkSquare',
      'check-square-recognised',
      (n) => `${counted(n, 'check square')} of the named size ${n === 1 ? 'is' : 'are'} not read as a piece.`,
    );
    const bars = of('scaleBar').length + [...this.asideLines.values()].filter((k) => k === 'scaleBar').length;
    if (bars > 0)
      this.issues.push(
        finding(
          'note',
          'scale-bar-recognised',
          'A scale bar of the named length is not read as a piece.',
          '',
        ),
      );
    if (this.legend.length > 0 || [...this.asideLines.values()].includes('legend')) {
      const says = this.legend.map((e) => `"${e.text}"`).join(', ');
      this.issues.push(
        finding(
          'note',
          'legend-recognised',
          `A legend was found${says ? `; it explains ${says}` : ''}.`,
          'Check the roles of the line groups.',
        ),
      );
    }
  }

  result(): Surroundings {
    this.sortFrom(-1);
    this.sortScraps();
    const share = new Map<number, number>();
    const kindOf = new Map<number, AsideKind>();
    for (const [i, kind] of this.kinds)
      for (const [line, d] of this.blocks[i]!.lines) {
        addLength(share, line, d);
        kindOf.set(line, kind);
      }
    for (const [line, d] of share)
      if (d > 0.5 * this.ink.lines[line]!.length) this.asideLines.set(line, kindOf.get(line)!);
    // Loose strokes inside boxes, frames' own corner marks and the like go with them.
    for (const s of this.found.scraps) {
      const kind = s.within >= 0 ? this.kinds.get(s.within) : undefined;
      if (kind === 'box' || kind === 'legend')
        for (const line of s.lines) this.asideLines.set(line, 'legend');
    }
    for (const [i] of this.kinds)
      if (this.kinds.get(i) !== 'frame') for (const t of this.blocks[i]!.texts) this.captions.add(t);
    this.report();
    return {
      aside: this.asideLines,
      asideBlocks: this.kinds,
      legend: this.legend,
      captions: this.captions,
      issues: this.issues,
    };
  }
}

/** Middle of a box. */
const middleOf = (b: Box): Point => ({ x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 });

function sameSize(a: Block, b: Block): boolean {
  const size = (k: Block) => [k.box.maxX - k.box.minX, k.box.maxY - k.box.minY] as const;
  const [aw, ah] = size(a);
  const [bw, bh] = size(b);
  return Math.abs(aw - bw) <= 0.01 * aw && Math.abs(ah - bh) <= 0.01 * ah;
}

function insideBox(p: Point, box: Box, slack: Mm): boolean {
  return (
    p.x >= box.minX - slack && p.x <= box.maxX + slack && p.y >= box.minY - slack && p.y <= box.maxY + slack
  );
}
