import { describe, expect, it } from 'vitest';
import { noResults } from '../../app/document/session';
import { nameEdges, nameFolds } from '../../app/steps/names';
import { readingFigures } from '../../app/steps/pattern/readingFigures';
import { missingMeasure, stepMarks } from '../../app/steps/stepMarks';
import {
  type Decisions,
  type Drawing,
  type DrawingSize,
  defaultDecisions,
  type Fit,
  type FitDecisions,
  type PagePlan,
} from '../../src/model';
import { fold, issue, open, patternOf, rectangle, seamsOf } from './shapes';

const withFit = (fit: Partial<FitDecisions>): Decisions => ({
  ...defaultDecisions,
  fit: { ...defaultDecisions.fit, ...fit },
});

const unmeasured: Fit = {
  scale: 1,
  shell: null,
  reshaped: null,
  patternGirth: null,
  insideGirthWanted: 630,
  insideGirth: null,
  outsideGirth: null,
  largestPiece: { width: 50, height: 20 },
  steps: [],
  context: null,
  issues: [],
};

const drawing = (from: Drawing['size']['from']): Drawing => ({
  size: { width: 210, height: 297, from },
  lines: [],
  texts: [],
  issues: [],
});

describe('the state of the steps', () => {
  it('is waiting everywhere before anything is read', () => {
    const marks = stepMarks(noResults, defaultDecisions);
    expect(Object.values(marks).map((mark) => mark.state)).toEqual(Array(8).fill('waiting'));
  });

  it('asks for the size when the file gives none, whatever else was found', () => {
    const results = {
      ...noResults,
      drawing: drawing({ kind: 'none' }),
      pattern: patternOf([rectangle('A', 0, 50, 20)]),
      issues: [issue('reading', 'warning')],
    };
    expect(stepMarks(results, defaultDecisions).pattern).toMatchObject({
      state: 'ask',
      count: 1,
      word: 'how large?',
    });
  });

  it('has no pages to print while the size is not known', () => {
    const pages: PagePlan = {
      width: 210,
      height: 297,
      margin: 8,
      overlap: 10,
      correction: { x: 1, y: 1 },
      pages: [],
      placements: [],
      extent: { width: 0, height: 0 },
      issues: [],
    };
    const marks = (from: DrawingSize['from']) =>
      stepMarks({ ...noResults, drawing: drawing(from), pages }, defaultDecisions).pages.state;
    expect(marks({ kind: 'none' })).toBe('waiting');
    expect(marks({ kind: 'physical' })).toBe('done');
  });

  it('counts errors and warnings of a step’s stages, not notes and repairs', () => {
    const results = {
      ...noResults,
      drawing: drawing({ kind: 'physical' }),
      pattern: patternOf([rectangle('A', 0, 50, 20)]),
      seams: seamsOf([]),
      issues: [
        issue('drawing', 'error'),
        issue('reading', 'warning'),
        issue('reading', 'repaired'),
        issue('seams', 'note'),
        issue('layout', 'error'),
      ],
    };
    const marks = stepMarks(results, defaultDecisions);
    expect(marks.pattern).toEqual({ state: 'look', count: 2, word: '2 to look at', short: 'look: 2' });
    expect(marks.seams.state).toBe('done');
    expect(marks.pages.count).toBe(1);
  });

  it('asks about edges without a mate until they are borders', () => {
    const of = (why: 'no-evidence' | 'border') =>
      stepMarks({ ...noResults, seams: seamsOf([], { open: [open('A-left', { why })] }) }, defaultDecisions)
        .seams;
    expect(of('no-evidence')).toMatchObject({ state: 'ask', word: '1 open' });
    expect(of('border').state).toBe('done');
  });

  it('names the measure that is still missing', () => {
    const missing = (decisions: Decisions) => missingMeasure(decisions, { ...noResults, fit: unmeasured });
    expect(missing(defaultDecisions)).toBe('head?');
    expect(missing(withFit({ head: 580 }))).toBe('girth?');
    expect(missing(withFit({ head: 580, girth: { kind: 'typed', length: 600 } }))).toBeNull();
    expect(missing(withFit({ how: 'known', known: { have: 10, want: null } }))).toBe('length?');
    expect(missing(withFit({ how: 'known', known: { have: 10, want: 12 } }))).toBeNull();
    expect(missing(withFit({ how: 'percent' }))).toBeNull();
  });
});

describe('the girth that the shell measures', () => {
  const words = (fit: Fit | null) =>
    stepMarks({ ...noResults, pattern: patternOf([rectangle('A', 0, 50, 20)]), fit }, withFit({ head: 580 }))
      .size;

  it('is not asked for', () => {
    expect(words(unmeasured)).toMatchObject({ state: 'ask', word: 'girth?' });
    expect(words({ ...unmeasured, patternGirth: 640 })).toMatchObject({ state: 'done' });
  });

  it('is not asked for before anybody can know', () => {
    expect(words(null).state).toBe('waiting');
  });
});

describe('edges that several mates fit', () => {
  it('are named before those that have none', () => {
    const seams = seamsOf([], {
      open: [open('A-left'), open('A-right', { candidates: ['B-left', 'B-right'] })],
    });
    expect(stepMarks({ ...noResults, seams }, defaultDecisions).seams).toMatchObject({
      state: 'ask',
      word: '1 unclear',
    });
  });
});

describe('names of edges and folds', () => {
  const pattern = patternOf(
    [
      rectangle('A', 0, 50, 20, { folds: [fold('x', 'mountain'), fold('y', 'valley')] }),
      rectangle('B', 100, 30, 20, { holes: [rectangle('hole', 110, 5, 5).outline] }),
    ],
    {
      labels: [
        { edge: 'B-left', text: '7', at: { x: 0, y: 0 }, size: 3, angle: 0, source: 't1' },
        { edge: 'B-left', text: '8', at: { x: 0, y: 0 }, size: 3, angle: 0, source: 't2' },
      ],
    },
  );
  const edges = nameEdges(pattern);

  it('count on from the outline into the holes', () => {
    expect(edges.size).toBe(12);
    expect(edges.get('A-above')?.name).toBe('A 3');
    expect(edges.get('B-below')?.name).toBe('B 1');
    expect(edges.get('hole-below')?.name).toBe('B 5');
  });

  it('carry length and printed numbers', () => {
    expect(edges.get('A-right')?.length).toBe(20);
    expect(edges.get('B-left')?.label).toBe('7, 8');
  });

  it('give folds a name within their piece', () => {
    expect(nameFolds(pattern).get('y')).toBe('A fold 2');
  });
});

describe('the reading report', () => {
  it('counts folds by role and marks lines that were not understood', () => {
    const figures = readingFigures(
      patternOf([rectangle('A', 0, 50, 20, { folds: [fold('x', 'mountain'), fold('y', 'unknown')] })], {
        unread: [{ line: '0:1:0', at: { x: 0, y: 0 }, reason: 'dangling', length: 12 }],
      }),
    );
    const of = (label: string) => figures.find((figure) => figure.label === label);
    expect(of('Pieces')?.value).toBe(1);
    expect(of('Folds')).toMatchObject({ value: 2, note: '1 mountain, 0 valley, 1 unknown' });
    expect(of('Not understood')).toMatchObject({ value: 1, look: true });
    expect(of('Tabs')?.look).toBeUndefined();
  });
});
