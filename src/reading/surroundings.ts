/**
 * What on the page is not a piece: page frames, legends, title boxes, check squares and scale bars. Works on the
 * blocks and scraps of the whole drawing; answers which lines stand aside and what the legend says.
 */
import type { Issue } from '../base';
import { type Box, boxOf, distance, type Point } from '../math';
import type { DrawingText, LineRole, LineStyle } from '../model';
import type { Mm } from '../units';
import { addLength, type Block, type Blocks, type Scrap } from './blocks';
import { captionRole, halfWidth, isSheetWording, isWording, namedLengths } from './captions';
import { counted, finding } from './findings';
import type { Ink } from './ink';
import type { LookGroup } from './styleGroups';
import { namedSizeSlack } from './tolerance';

export type AsideKind = 'frame' | 'legend' | 'box' | 'checkSquare' | 'scaleBar';

export interface LegendEntry {
  readonly role: LineRole;
  readonly text: string;
  readonly style: LineStyle;
}

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

/** A closed part that fills its upright box to this share is boxy enough to be a page with more drawn across it. */
const boxShare = 0.9;

export function findSurroundings(found: Blocks, ink: Ink, groupOf: readonly LookGroup[]): Surroundings {
  const sorter = new Sorter(found, ink, groupOf);
  sorter.sortFrom(-1);
  sorter.sortScraps();
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
  /** Looks of lines in blocks that have inner lines, which only pieces have. */
  private readonly pieceLooks = new Set<string>();

  constructor(
    private readonly found: Blocks,
    private readonly ink: Ink,
    private readonly groupOf: readonly LookGroup[],
  ) {
    this.blocks = found.blocks;
    for (const b of this.blocks)
      if (b.faces.length > 1 && !b.rectangles)
        for (const line of b.lines.keys()) this.pieceLooks.add(groupOf[line]!.key);
  }

  /** Sorts the blocks that lie directly in empty space within block `outside` (−1: on the page). */
  sortFrom(outside: number): void {
    const here = this.blocks.flatMap((b, i) => (b.within === outside ? [i] : []));
    for (const i of here) {
      const b = this.blocks[i]!;
      if (this.isFrame(b, here)) {
        this.kinds.set(i, 'frame');
        this.sortFrom(i);
        continue;
      }
      const kind = this.isCheckSquare(b)
        ? 'checkSquare'
        : this.isScaleBar(b)
          ? 'scaleBar'
          : this.isBox(b)
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

  private isFrame(b: Block, here: readonly number[]): boolean {
    if (b.children.length === 0) return false;
    const kids = b.children.map((c) => this.blocks[c]!);
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
      const all = this.below(this.blocks.indexOf(b)).length;
      if (all * 3 >= (this.blocks.length - 1) * 2) return true;
    }
    const looks = new Set([...b.lines.keys()].map((l) => this.groupOf[l]!.key));
    const kidLooks = new Set(kids.flatMap((k) => [...k.lines.keys()].map((l) => this.groupOf[l]!.key)));
    if ([...looks].every((l) => !kidLooks.has(l)) && !this.hasPieceLook(b)) return true;
    // Pages of one size that together hold nearly everything.
    const twins = here
      .map((i) => this.blocks[i]!)
      .filter((o) => o.rectangles && o.children.length > 0 && sameSize(o, b));
    const held = twins.reduce((n, t) => n + t.children.length, 0);
    const others = here.length - twins.length;
    return twins.length >= 2 && held >= 4 * Math.max(1, others) && held > 2 * twins.length;
  }

  private hasPieceLook(b: Block): boolean {
    return [...b.lines.keys()].some((l) => this.pieceLooks.has(this.groupOf[l]!.key));
  }

  /** Rectangles that hold words or line samples and no piece. */
  private isBox(b: Block): boolean {
    const senses = this.senses(b);
    const noteWords = senses.has('legend') || senses.has('notes') || senses.has('frame');
    const index = this.blocks.indexOf(b);
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
    this.ink.texts.forEach((t, i) => {
      const named = namedLengths(t.text);
      if (named.length === 0 || !near(t)) return;
      if (named.some((n) => lengths.some((d) => Math.abs(n - d) <= namedSizeSlack * n))) {
        this.captions.add(i);
        hit = true;
      }
    });
    return hit;
  }

  /** Line samples beside captions, scale bars drawn as open lines. */
  sortScraps(): void {
    const free = this.found.scraps.filter((s) => s.within < 0 || !this.pieces.has(s.within));
    const swatches = this.blocks.flatMap((b, i) =>
      this.pieces.has(i) && b.faces.length === 1 && b.children.length === 0 && b.texts.length === 0
        ? [i]
        : [],
    );
    interface Sample {
      readonly lines: readonly number[];
      readonly points: readonly Point[];
      readonly block: number;
    }
    const samples: Sample[] = [
      ...free.map((s) => ({ lines: s.lines, points: s.points, block: -1 })),
      ...swatches.map((i) => ({
        lines: [...this.blocks[i]!.lines.keys()],
        points: this.blocks[i]!.corners,
        block: i,
      })),
    ];
    const matches: { text: number; sample: Sample; gap: number; role: LineRole }[] = [];
    this.ink.texts.forEach((t, ti) => {
      const role = captionRole(t.text);
      if (role === null) return;
      for (const sample of samples) {
        const gap = rowGap(t, sample.points);
        if (gap !== null) matches.push({ text: ti, sample, gap, role });
      }
    });
    matches.sort((a, b) => a.gap - b.gap || a.text - b.text);
    const usedTexts = new Set<number>();
    const usedSamples = new Set<Sample>();
    const chosen = matches.filter((m) => {
      if (usedTexts.has(m.text) || usedSamples.has(m.sample)) return false;
      usedTexts.add(m.text);
      usedSamples.add(m.sample);
      return true;
    });
    // A closed swatch alone may be a piece with a name beside it; next to line samples it is part of the legend.
    const hasLines = chosen.some((m) => m.sample.block < 0);
    for (const m of chosen) {
      if (m.sample.block >= 0 && !hasLines) continue;
      this.captions.add(m.text);
      for (const line of m.sample.lines) this.asideLines.set(line, 'legend');
      if (m.sample.block >= 0) {
        this.kinds.set(m.sample.block, 'legend');
        this.pieces.delete(m.sample.block);
      } else if (m.role !== 'notes') {
        const style = this.ink.lines[m.sample.lines[0]!]!.line.style;
        this.legend.push({ role: m.role, text: this.ink.texts[m.text]!.text.trim(), style });
      }
    }
    for (const s of free) {
      if (s.lines.some((l) => this.asideLines.has(l))) continue;
      if (this.isOpenScaleBar(s)) for (const line of s.lines) this.asideLines.set(line, 'scaleBar');
    }
  }

  private isOpenScaleBar(s: Scrap): boolean {
    const box = boxOf(s.points);
    const long = Math.max(box.maxX - box.minX, box.maxY - box.minY);
    const low = Math.min(box.maxX - box.minX, box.maxY - box.minY);
    if (long === 0 || low > 0.2 * long) return false;
    return this.nameSize([long], (t) => insideBox(t.centre, box, Math.max(3 * t.size, 0.15 * long)));
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

/** How far a sample stands from a text along the text's own row; null when it is not in the row or too far. */
function rowGap(t: DrawingText, points: readonly Point[]): Mm | null {
  const ux = Math.cos(t.angle);
  const uy = Math.sin(t.angle);
  let minA = Number.POSITIVE_INFINITY;
  let maxA = Number.NEGATIVE_INFINITY;
  let minP = Number.POSITIVE_INFINITY;
  let maxP = Number.NEGATIVE_INFINITY;
  for (const p of points) {
    const x = p.x - t.centre.x;
    const y = p.y - t.centre.y;
    const a = x * ux + y * uy;
    const b = y * ux - x * uy;
    minA = Math.min(minA, a);
    maxA = Math.max(maxA, a);
    minP = Math.min(minP, b);
    maxP = Math.max(maxP, b);
  }
  if (minP > 0.8 * t.size || maxP < -0.8 * t.size) return null;
  if (maxP - minP > 8 * t.size || maxA - minA > 30 * t.size) return null;
  const half = halfWidth(t);
  const gap = Math.max(minA - half, -half - maxA, 0);
  return gap <= 8 * t.size ? gap : null;
}
