/** The measures of a head: those that were given, and the rest from published ratios, each with a sentence. */
import type { FitDecisions } from '../model';
import { ellipseGirth } from '../shell';
import { formatLength, type Mm } from '../units';
import { headRatios } from './headFigures';

export interface HeadMeasures {
  readonly girth: Mm;
  readonly length: Mm;
  readonly breadth: Mm;
  /** Brow plane to crown. */
  readonly height: Mm;
  /** Which of them somebody measured. */
  readonly given: {
    readonly girth: boolean;
    readonly length: boolean;
    readonly breadth: boolean;
    readonly height: boolean;
  };
  /** One sentence for each measure that nobody gave. */
  readonly assumed: readonly string[];
}

const { tapeOverEllipse, breadthToLength, earToCrown, browAboveEar, people } = headRatios;
/** Breadth to length outside is no head: a measure must be mistaken, and the usual ratio is taken. */
const possibleRatio = { least: 0.6, most: 1.05 } as const;

/** Head measures of a fit; null while neither girth nor length nor breadth is given. */
export function headMeasures(fit: FitDecisions): HeadMeasures | null {
  const known = (value: Mm | null) => (value !== null && value > 0 && Number.isFinite(value) ? value : null);
  const girth = known(fit.head);
  const length = known(fit.measures.length);
  const breadth = known(fit.measures.breadth);
  const height = known(fit.measures.height);
  const round = sectionOf(girth, length, breadth);
  if (!round) return null;
  const share = earToCrown - browAboveEar;
  const crown = height ?? share * round.girth;
  return {
    ...round,
    height: crown,
    given: {
      girth: girth !== null,
      length: length !== null,
      breadth: breadth !== null,
      height: height !== null,
    },
    assumed: [
      ...round.assumed,
      ...(height === null
        ? [
            `The height of the crown above the brow is taken as ${share.toFixed(3)} of the girth, ${mm(crown)}: the crown lies ${earToCrown} of the girth above the ear hole (mean of ${people}), and the brow ${browAboveEar} above it (common practice, no source).`,
          ]
        : []),
    ],
  };
}

const mm = (length: Mm) => formatLength(length, 'mm');
const usualRatio = `the mean of ${people}`;

interface HeadSection {
  readonly girth: Mm;
  readonly length: Mm;
  readonly breadth: Mm;
  readonly assumed: readonly string[];
}

function sectionOf(girth: Mm | null, length: Mm | null, breadth: Mm | null): HeadSection | null {
  if (length !== null && breadth !== null) {
    if (girth !== null) return { girth, length, breadth, assumed: [] };
    const tape = tapeOverEllipse * ellipseGirth(length, breadth);
    return {
      girth: tape,
      length,
      breadth,
      assumed: [
        `The girth is taken as ${tapeOverEllipse} times that of an ellipse of this length and breadth, ${mm(tape)} (${usualRatio}).`,
      ],
    };
  }
  const one = length ?? breadth;
  if (one !== null) {
    const usual = length !== null ? one * breadthToLength : one / breadthToLength;
    const fromTape = girth === null ? null : otherDiameter(girth / tapeOverEllipse, one);
    const ratio = fromTape === null ? 0 : length !== null ? fromTape / one : one / fromTape;
    const fits = fromTape !== null && ratio >= possibleRatio.least && ratio <= possibleRatio.most;
    const other = fits ? fromTape : usual;
    const name = length !== null ? 'breadth' : 'length';
    const how = fits
      ? `The ${name} is taken as ${mm(other)}, with which a tape reads the girth given: it reads ${tapeOverEllipse} times the girth of an ellipse (${usualRatio}).`
      : `The ${name} is taken as ${mm(other)}: breadth is ${breadthToLength} of the length (${usualRatio}).`;
    const [l, b] = length !== null ? [one, other] : [other, one];
    if (girth !== null) return { girth, length: l, breadth: b, assumed: [how] };
    const tape = tapeOverEllipse * ellipseGirth(l, b);
    return {
      girth: tape,
      length: l,
      breadth: b,
      assumed: [
        how,
        `The girth is taken as ${mm(tape)}, ${tapeOverEllipse} times that of the ellipse (${usualRatio}).`,
      ],
    };
  }
  if (girth === null) return null;
  const l = girth / (tapeOverEllipse * ellipseGirth(1, breadthToLength));
  const b = l * breadthToLength;
  return {
    girth,
    length: l,
    breadth: b,
    assumed: [
      `Length and breadth are taken from the girth, ${mm(l)} and ${mm(b)}: breadth is ${breadthToLength} of the length, and a tape reads ${tapeOverEllipse} times the girth of that ellipse (means of ${people}).`,
    ],
  };
}

/** The second diameter of an ellipse of this girth; null when even a flat one is longer. */
function otherDiameter(girth: Mm, one: Mm): Mm | null {
  if (2 * one >= girth) return null;
  let low = 0;
  let high = girth;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (ellipseGirth(one, middle) < girth) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
