/** Legends: line samples with captions beside them; and scale bars drawn as open lines. */
import { type Box, boxOf, type Point } from '../math';
import type { DrawingText, LineRole, LineStyle } from '../model';
import type { Mm } from '../units';
import type { Blocks, Scrap } from './blocks';
import { captionRole, halfWidth } from './captions';
import type { Ink } from './ink';

/** Kinds of lines that belong to no piece. */
export type AsideKind = 'frame' | 'legend' | 'box' | 'checkSquare' | 'scaleBar';

export interface LegendEntry {
  readonly role: LineRole;
  readonly text: string;
  readonly style: LineStyle;
}

export interface LegendFinding {
  readonly entries: readonly LegendEntry[];
  readonly lines: ReadonlyMap<number, AsideKind>;
  /** Blocks that are swatches of a legend. */
  readonly swatches: readonly number[];
  /** Texts that are captions. */
  readonly captions: readonly number[];
}

/** Something a caption may stand beside: open strokes, or a small closed block. */
interface Sample {
  readonly lines: readonly number[];
  readonly points: readonly Point[];
  /** Index of the block, −1 for open strokes. */
  readonly block: number;
}

/**
 * Reads the legend among what lies outside pieces. `pieces` are the blocks taken for pieces so far; `namesLength` tells
 * whether a text near a box names a length.
 */
export function readLegend(
  found: Blocks,
  ink: Ink,
  pieces: ReadonlySet<number>,
  namesLength: (length: Mm, box: Box) => boolean,
): LegendFinding {
  const free = found.scraps.filter((s) => s.within < 0 || !pieces.has(s.within));
  const chosen = pairCaptions(ink.texts, samplesOf(found, free, pieces));
  // A closed swatch alone may be a piece with a name beside it; next to line samples it is part of the legend.
  const hasLines = chosen.some((m) => m.sample.block < 0);
  const lines = new Map<number, AsideKind>();
  const entries: LegendEntry[] = [];
  const swatches: number[] = [];
  const captions: number[] = [];
  for (const m of chosen) {
    if (m.sample.block >= 0 && !hasLines) continue;
    captions.push(m.text);
    for (const line of m.sample.lines) lines.set(line, 'legend');
    if (m.sample.block >= 0) swatches.push(m.sample.block);
    else if (m.role !== 'notes') {
      const style = ink.lines[m.sample.lines[0]!]!.line.style;
      entries.push({ role: m.role, text: ink.texts[m.text]!.text.trim(), style });
    }
  }
  for (const s of free)
    if (!s.lines.some((l) => lines.has(l)) && isScaleBar(s, namesLength))
      for (const line of s.lines) lines.set(line, 'scaleBar');
  return { entries, lines, swatches, captions };
}

function samplesOf(found: Blocks, free: readonly Scrap[], pieces: ReadonlySet<number>): Sample[] {
  const swatches = found.blocks.flatMap((b, i): Sample[] =>
    pieces.has(i) && b.faces.length === 1 && b.children.length === 0 && b.texts.length === 0
      ? [{ lines: [...b.lines.keys()], points: b.corners, block: i }]
      : [],
  );
  return [...free.map((s): Sample => ({ lines: s.lines, points: s.points, block: -1 })), ...swatches];
}

/** Each caption with the nearest sample in its row, nearest pairs first, nothing twice. */
function pairCaptions(texts: readonly DrawingText[], samples: readonly Sample[]) {
  const matches: { text: number; sample: Sample; gap: Mm; role: LineRole }[] = [];
  texts.forEach((t, text) => {
    const role = captionRole(t.text);
    if (role === null) return;
    for (const sample of samples) {
      const gap = rowGap(t, sample.points, sample.block < 0 ? sampleReach : swatchReach);
      if (gap !== null) matches.push({ text, sample, gap, role });
    }
  });
  matches.sort((a, b) => a.gap - b.gap || a.text - b.text);
  const usedTexts = new Set<number>();
  const usedSamples = new Set<Sample>();
  return matches.filter((m) => {
    if (usedTexts.has(m.text) || usedSamples.has(m.sample)) return false;
    usedTexts.add(m.text);
    usedSamples.add(m.sample);
    return true;
  });
}

function isScaleBar(s: Scrap, namesLength: (length: Mm, box: Box) => boolean): boolean {
  const box = boxOf(s.points);
  const long = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  const low = Math.min(box.maxX - box.minX, box.maxY - box.minY);
  return long > 0 && low <= 0.2 * long && namesLength(long, box);
}

/** Largest samples, in text sizes. A closed one any larger is a piece with a remark beside it. */
const sampleReach = { high: 8, long: 30 };
const swatchReach = { high: 3, long: 12 };
/** A caption stands no further from its sample than this many text sizes. */
const captionGap = 8;

/** How far a sample stands from a text along the text's own row; null when it is not in the row or too far. */
function rowGap(
  t: DrawingText,
  points: readonly Point[],
  reach: { readonly high: number; readonly long: number },
): Mm | null {
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
  if (maxP - minP > reach.high * t.size || maxA - minA > reach.long * t.size) return null;
  const half = halfWidth(t);
  const gap = Math.max(minA - half, -half - maxA, 0);
  return gap <= captionGap * t.size ? gap : null;
}
