/**
 * FOLD text -> a drawing in millimetres: every edge of the crease pattern is one line that says what it is. Source of
 * the format: FOLD specification 1.2 (JSON; vertices, edges with assignments and angles, faces, frames, units).
 */
import { GirthwiseError, type Outcome, succeed } from '../base';
import { lerp, type Point } from '../math';
import {
  type Drawing,
  type DrawingLine,
  type DrawingSize,
  type DrawingText,
  type LineKind,
  type LineRole,
  type LineStyle,
  lineLooks,
  type ReadingDecisions,
} from '../model';
import { type Mm, mmPerUnit } from '../units';
import { type FoldFrame, framesOf, patternFrames } from './foldFrames';
import { type FoldAssignment, type FoldEdge, readFoldFrame } from './foldLines';
import type { IssueLog } from './issueLog';
import { joinDrawings } from './joinDrawings';
import { JsonFault, type JsonNode, readJson } from './jsonTree';
import { mmPerPx } from './lengths';
import { type DrawingLimits, refuseTooLarge } from './limits';

/** Newest version of the format whose rules are followed here. */
const knownVersion = 1.2;

/** Free room round the pattern, as a part of its longer side: a sheet's border must not lie on the page's. */
const pageRim = 0.05;

/** Everything as it is read. */
interface Ask {
  readonly file: number;
  readonly size: ReadingDecisions['size'];
  readonly limits: DrawingLimits;
}

/**
 * Reads one FOLD file, or several models of one as drawings side by side.
 * @param factor how many times larger than at 96 units per inch it is, when a known length has been measured
 * @throws ReadingStopped when it is damaged or holds no flat pattern; GirthwiseError for senseless options.
 */
export function readFold(
  text: string,
  log: IssueLog,
  ask: Ask,
  factor: number | undefined,
): Outcome<Drawing> {
  refuseTooLarge(text, ask.limits, log);
  const root = parse(text, log, ask.limits);
  if (root.kind !== 'object') throw new GirthwiseError('no-fold-text', 'A FOLD text must be one JSON object');
  const version = root.members.get('file_spec');
  if (version?.kind === 'number' && version.value > knownVersion) {
    log.tell(
      {
        code: 'fold-version',
        severity: 'note',
        message: `The file follows version ${version.value} of the FOLD format; it is read by the rules of version ${knownVersion}.`,
        remedy: 'Check the pieces and the directions of the folds.',
      },
      version.offset,
    );
  }
  const drawings = patternFrames(root, framesOf(root, log), log).map((frame) =>
    drawFrame(frame, log, ask, factor),
  );
  const whole = joinDrawings(drawings);
  if (whole.lines.length === 0) {
    log.tell({
      code: 'nothing-drawn',
      severity: 'error',
      message: 'The file is a FOLD file, but no edge of it can be drawn.',
      remedy: 'Save the crease pattern again from the program that made it.',
    });
  }
  return succeed({ ...whole, issues: log.finish() });
}

function parse(text: string, log: IssueLog, limits: DrawingLimits): JsonNode {
  try {
    return readJson(text, { nesting: limits.nesting, values: limits.points });
  } catch (fault) {
    if (!(fault instanceof JsonFault)) throw fault;
    return log.stop(
      {
        code: 'fold-damaged',
        message: `The FOLD file is damaged: ${fault.expected.charAt(0).toLowerCase()}${fault.expected.slice(1)} should stand here.`,
        remedy: 'Save it again from the program that made it, or mend this place in a text editor.',
      },
      fault.offset,
    );
  }
}

function drawFrame(frame: FoldFrame, log: IssueLog, ask: Ask, factor: number | undefined): Drawing {
  const figure = readFoldFrame(frame, log);
  const { from, perUnit } = scaleOf(frame, log, ask.size, factor);
  const used = figure.edges.flatMap((e) => [figure.places[e.from]!, figure.places[e.to]!]);
  let [minX, minY, maxX, maxY] = [0, 0, 0, 0];
  used.forEach((p, i) => {
    minX = i === 0 ? p.x : Math.min(minX, p.x);
    maxX = i === 0 ? p.x : Math.max(maxX, p.x);
    minY = i === 0 ? p.y : Math.min(minY, p.y);
    maxY = i === 0 ? p.y : Math.max(maxY, p.y);
  });
  const rim = pageRim * Math.max(maxX - minX, maxY - minY);
  const place = (v: number): Point => {
    const p = figure.places[v]!;
    return { x: (p.x - minX + rim) * perUnit, y: (p.y - maxY - rim) * perUnit };
  };
  const through = frame.number === 0 ? '' : `${frame.number}.`;
  const id = (e: FoldEdge) => `${ask.file}:${through}${e.number}:0`;
  const lines = figure.edges.map(
    (e): DrawingLine => ({
      id: id(e),
      element: 'edge',
      elementId: '',
      groups: [],
      start: place(e.from),
      segments: [{ kind: 'line', to: place(e.to) }],
      closed: false,
      style: styleOf[e.assignment],
      ...(e.bend === null ? {} : { bend: e.bend }),
      source: log.source(e.offset),
    }),
  );
  const size: DrawingSize = {
    width: (maxX - minX + 2 * rim) * perUnit,
    height: (maxY - minY + 2 * rim) * perUnit,
    from,
  };
  return { size, lines, texts: mateNumbers(figure.edges, place, id, log), issues: [] };
}

/** Units of the format that are lengths, in mm. */
const unitLengths: Readonly<Record<string, Mm>> = {
  in: mmPerUnit.in,
  pt: mmPerUnit.pt,
  m: 1000,
  cm: 10,
  mm: 1,
  um: 1e-3,
  nm: 1e-6,
};

function scaleOf(
  frame: FoldFrame,
  log: IssueLog,
  decision: ReadingDecisions['size'],
  factor: number | undefined,
): { from: DrawingSize['from']; perUnit: Mm } {
  const stated = frame.property('frame_unit');
  const unit = stated?.kind === 'string' ? stated.value : 'unit';
  if (Object.hasOwn(unitLengths, unit)) return { from: { kind: 'physical' }, perUnit: unitLengths[unit]! };
  if (factor !== undefined) return { from: { kind: 'knownLength', factor }, perUnit: mmPerPx * factor };
  if (decision.kind === 'perInch') {
    if (!(decision.value > 0 && Number.isFinite(decision.value)))
      throw new GirthwiseError('bad-per-inch', `Units per inch must be above 0, not ${decision.value}`);
    return { from: { kind: 'perInch', value: decision.value }, perUnit: mmPerUnit.in / decision.value };
  }
  log.tell(
    {
      code: 'size-unknown',
      severity: 'warning',
      message: `The FOLD file does not say how large it is on paper: ${unit === 'unit' ? 'its unit has no length' : `its unit is “${unit.slice(0, 20)}”, which the format does not know`}. It is shown at 96 units per inch.`,
      remedy: 'Give the length of a line that you know, or say how many units make an inch.',
    },
    stated?.offset,
  );
  return { from: { kind: 'none' }, perUnit: mmPerPx };
}

const look = (kind: LineKind, className: string, assigned?: LineRole): LineStyle => ({
  stroke: '#000000',
  fill: '',
  strokeWidth: lineLooks[kind].width,
  dash: lineLooks[kind].dash,
  className,
  opacity: 1,
  ...(assigned ? { assigned } : {}),
});

/** A join is drawn for the eye only: the format takes the faces on both sides of it for one. */
const styleOf: Readonly<Record<FoldAssignment, LineStyle>> = {
  B: look('cut', 'outline', 'outline'),
  C: look('cut', 'cut', 'outline'),
  M: look('mountain', 'mountain', 'mountain'),
  V: look('valley', 'valley', 'valley'),
  F: look('scored', 'flat fold', 'fold'),
  U: look('softBend', 'fold', 'fold'),
  J: look('leader', 'join', 'notes'),
  open: look('leader', ''),
};

/** Numbers stand this far inside their edge, as a part of the shortest numbered edge, and at most so large. */
const numberShare = 0.2;
const largestNumber: Mm = 3;

/** Edges that the file says are glued together get a number each, the same on both, as if it were printed there. */
function mateNumbers(
  edges: readonly FoldEdge[],
  place: (v: number) => Point,
  id: (e: FoldEdge) => string,
  log: IssueLog,
): DrawingText[] {
  const byNumber = new Map(edges.map((e) => [e.number, e]));
  const pairs = edges.flatMap((e): (readonly [FoldEdge, FoldEdge])[] => {
    const mate = e.mate === null ? undefined : byNumber.get(e.mate);
    return mate && mate.mate === e.number && e.number < mate.number ? [[e, mate]] : [];
  });
  const lengthOf = (e: FoldEdge) => {
    const [p, q] = [place(e.from), place(e.to)];
    return Math.hypot(q.x - p.x, q.y - p.y);
  };
  const shortest = pairs.flat().reduce((least, e) => Math.min(least, lengthOf(e)), Number.POSITIVE_INFINITY);
  const size = Math.min(largestNumber, numberShare * shortest);
  return pairs.flatMap((pair, i) =>
    pair.map((e): DrawingText => {
      // Along the edge with its face to the left.
      const [p, q] = e.faceLeft ? [place(e.from), place(e.to)] : [place(e.to), place(e.from)];
      const angle = Math.atan2(q.y - p.y, q.x - p.x);
      const middle = lerp(p, q, 0.5);
      const centre = { x: middle.x - size * Math.sin(angle), y: middle.y + size * Math.cos(angle) };
      return {
        id: `${id(e)}:mate`,
        text: String(i + 1),
        at: centre,
        anchor: 'middle',
        centre,
        angle,
        size,
        groups: [],
        className: 'number',
        fill: '#000000',
        source: log.source(e.offset),
      };
    }),
  );
}
