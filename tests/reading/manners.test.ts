/**
 * Reading against known truth: every generated pattern in every manner of drawing, and in the habits of other hands.
 * Pieces, faces, folds with direction, edges, tabs, numbers and names must be found, each one and nothing else.
 */
import { describe, expect, it } from 'vitest';
import { readDrawing } from '../../src/drawing';
import { defaultDecisions, type Pattern, type ReadingDecisions } from '../../src/model';
import { readPattern } from '../../src/reading';
import {
  corpus,
  drawPattern,
  type Manner,
  numberEdges,
  placePieces,
  type Truth,
} from '../support/harbourWatch';
import { drawByHand, type Habits, tabsFor } from './otherHands';
import { type Kind, perfect, scoreReading } from './score';

function read(svg: string, pixels: boolean): Pattern {
  const size: ReadingDecisions['size'] = pixels ? { kind: 'perInch', value: 96 } : { kind: 'ask' };
  const drawing = readDrawing({ name: 'pattern.svg', svg }, { file: 0, size });
  if (!drawing.ok) throw new Error(drawing.issues.map((i) => i.message).join(' '));
  return readPattern(drawing.value, defaultDecisions.reading);
}

function expectPerfect(p: Pattern, truth: Truth, foldSigns: boolean, without: readonly Kind[] = []): void {
  const { scores, differences } = scoreReading(p, truth, { slack: 0.08, foldSigns });
  const wrong = Object.entries(scores).filter(([kind, s]) => !perfect(s) && !without.includes(kind as Kind));
  expect(
    wrong.map(([kind, s]) => `${kind}: ${s.both} of ${s.truth}, ${s.read} read`),
    differences.slice(0, 8).join('\n'),
  ).toEqual([]);
}

const manners: readonly Manner[] = ['clean', 'loose', 'inch', 'stacked', 'plain'];
const variants = [
  {},
  { tabs: true, numbers: 'runs' },
  { tabs: true, foldSigns: false, numbers: 'none' },
] as const;
/** The two largest take a while: one variant each. */
const large = /900|Gannet/;

describe.each(corpus)('$name', ({ name, make }) => {
  const flat = make();

  it.each(manners)('drawn in the %s manner', (manner) => {
    for (const variant of large.test(name) ? variants.slice(0, 1) : variants) {
      const { svg, truth } = drawPattern(flat, { manner, seed: 3, ...variant });
      const signs = manner !== 'plain' && !('foldSigns' in variant);
      // Without a legend, a third kind of dash for flat folds passes for the valley's.
      const flatDashes = manner === 'loose' ? (['foldRoles'] as const) : [];
      expectPerfect(read(svg, manner === 'loose'), truth, signs, signs ? flatDashes : []);
    }
  });

  it('loose, with the folds that have a direction', () => {
    const { svg, truth } = drawPattern(flat, { manner: 'loose', seed: 4 });
    const roles = scoreReading(read(svg, true), truth, { slack: 0.08, foldSigns: true }).scores.foldRoles;
    expect(roles.both).toBe(roles.truth);
  });
});

const hands: Record<string, Habits> = {
  'closed outlines, dashes, nothing else': {},
  'classes that say what they are, numbers inside, a legend': {
    looks: 'class',
    numbers: 'inside',
    legend: 'open',
  },
  'tabs in the outline, a boxed legend, a thin frame': {
    tabs: 'outline',
    numbers: 'inside',
    legend: 'box',
    frames: 'thin',
  },
  'tab bases drawn as cuts, numbers outside': {
    tabs: 'outline',
    tabBase: 'cut',
    numbers: 'outside',
    foldSigns: false,
  },
  'tabs as closed shapes, numbers on them': {
    looks: 'class',
    dullNames: true,
    tabs: 'closed',
    numbers: 'tab',
  },
  'tabs as open lines, steep, level numbers': { tabs: 'open', tabShape: 'steep', numbers: 'level' },
  'tabs as high as their base is long': { tabs: 'outline', tabShape: 'share', foldSigns: false },
  'tabs shorter than their edges': { tabs: 'outline', tabShape: 'inset', numbers: 'inside' },
  'tabs that overlap': { tabs: 'outline', tabShape: 'careless', numbers: 'tab' },
  'overlapping tabs in loose, noisy strokes, pixels': {
    tabs: 'outline',
    tabShape: 'careless',
    strokes: 'segments',
    noise: 0.014,
    doubles: 0.05,
    foldSigns: false,
    numbers: 'inside',
    unit: 'px',
  },
  'loose strokes with noise, numbers outside, pixels': {
    strokes: 'segments',
    noise: 0.02,
    doubles: 0.1,
    tabs: 'outline',
    foldSigns: false,
    numbers: 'outside',
    unit: 'px',
  },
  'loose strokes, all alike': {
    strokes: 'segments',
    noise: 0.01,
    looks: 'same',
    foldSigns: false,
    numbers: 'inside',
  },
  'loose strokes and tabs, all alike': {
    strokes: 'segments',
    noise: 0.01,
    looks: 'same',
    foldSigns: false,
    tabs: 'outline',
  },
  'all alike with frame, check square and scale bar': {
    looks: 'same',
    foldSigns: false,
    frames: 'same',
    numbers: 'inside',
    extras: true,
  },
  'all alike with tabs and a boxed legend': {
    looks: 'same',
    foldSigns: false,
    tabs: 'outline',
    legend: 'box',
  },
  'all alike, double frame': {
    looks: 'same',
    foldSigns: false,
    frames: 'double',
    extras: true,
    legend: 'open',
  },
  'roles by colour alone, with a legend': {
    looks: 'colour',
    numbers: 'inside',
    legend: 'open',
    frames: 'thin',
  },
  'filled shapes behind the pieces': {
    fills: true,
    numbers: 'inside',
    extras: true,
    frames: 'double',
    legend: 'box',
  },
  'every face a closed shape': { strokes: 'faces', looks: 'same', foldSigns: false },
  'every face a closed shape, inches, level numbers': {
    strokes: 'faces',
    looks: 'same',
    foldSigns: false,
    numbers: 'level',
    unit: 'in',
  },
  'numbers across the lines': { numbers: 'onLine', numberSize: 2 },
};

/** The bracer's curves are drawn by the generator's own manners only. */
const subjects = corpus.filter((c) => c.name !== 'Keel bracer' && !large.test(c.name));

describe.each(subjects)('$name by other hands', ({ make }) => {
  const flat = numberEdges(make());

  it.each(Object.entries(hands))('%s', (_, habits) => {
    const bare = habits.numbers === undefined;
    const numbered = bare
      ? {
          ...flat,
          pieces: flat.pieces.map((p) => ({ ...p, outline: p.outline.map((e) => ({ ...e, number: '' })) })),
        }
      : flat;
    const truth = placePieces(tabsFor(numbered, habits), {
      width: 900,
      height: 800,
      margin: 14,
      head: 60,
      pageGap: 20,
      loose: habits.strokes === 'segments',
      seed: 2,
    });
    const signs = (habits.foldSigns ?? true) && habits.looks !== 'same';
    expectPerfect(read(drawByHand(truth, habits), habits.unit === 'px'), truth, signs, ['names']);
  });
});
