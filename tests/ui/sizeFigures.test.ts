import { describe, expect, it } from 'vitest';
import { distanceOnShell, endOnShell } from '../../app/steps/size/shellPlaces';
import { browFigures, clearanceFigures, fitFigures, goesOnSentence } from '../../app/steps/size/sizeFigures';
import type { Clearances, Fit, GoesOn, Shell, ShellFit } from '../../src/model';
import { patternOf, rectangle } from './shapes';

const p = (x: number, y: number, z: number) => ({ x, y, z });
const section = {
  plane: { normal: p(0, 0, 1), offset: 120 },
  at: 0.55,
  tilt: 0,
  proposed: true,
  loop: { points: [], girth: 641.2 },
  tautGirth: 639.4,
  length: 214,
  breadth: 190,
};
const room: Clearances = {
  front: 10.2,
  back: 9.7,
  left: 13.6,
  right: 13.6,
  crown: -5.3,
  smallest: { room: -5.3, at: p(0, 0, 0), face: 0 },
  ofVertex: [],
};
const onShell = (scales: ShellFit['scales']): ShellFit => ({
  brow: section,
  scales,
  surfaces: { inside: [], paper: [], outside: [] },
  insideBrow: section,
  insideExtent: p(211, 313, 305),
  outsideExtent: p(221.6, 325.6, 310.2),
  headform: null,
  clearances: room,
  goesOn: null,
});
const fit = (shell: ShellFit | null): Fit => ({
  scale: 1.035,
  shell,
  reshaped: null,
  patternGirth: 639.4,
  insideGirthWanted: 630.3,
  insideGirth: 630.3,
  outsideGirth: null,
  largestPiece: { width: 200, height: 150 },
  steps: [],
  context: null,
  issues: [],
});
const labels = (f: Fit) => fitFigures(f, 'mm').map((figure) => figure.label);
const value = (f: Fit, label: string) => fitFigures(f, 'mm').find((x) => x.label === label)?.value;

describe('the size in figures', () => {
  it('shows one scale where there is one, and three where they differ', () => {
    expect(value(fit(null), 'Scale')).toBe('103.5 %');
    expect(value(fit(onShell({ breadth: 1.035, length: 1.0351, height: 1.035 })), 'Scale')).toBe('103.5 %');
    const three = fit(onShell({ breadth: 1.02, length: 1.05, height: 0.98 }));
    expect(labels(three)).not.toContain('Scale');
    expect(value(three, 'Scale along the length')).toBe('105 %');
    expect(value(three, 'Scale along the breadth')).toBe('102 %');
    expect(value(three, 'Scale along the height')).toBe('98 %');
  });

  it('shows the finished outside as length, breadth, height, only where a shell is', () => {
    expect(labels(fit(null))).not.toContain('Finished outside');
    const shell = onShell({ breadth: 1, length: 1, height: 1 });
    expect(value(fit(shell), 'Finished outside')).toBe('326 × 222 × 310 mm');
  });

  it('says in words where the head would be in the foam', () => {
    const figures = clearanceFigures(room, 'mm');
    expect(figures.filter((f) => f.look).map((f) => f.label)).toEqual(['Room at the crown', 'Smallest room']);
    expect(figures.find((f) => f.look)?.note).toBe('head in the foam');
  });

  it('shows the brow pulled tight and along the surface', () => {
    const figures = browFigures(onShell({ breadth: 1, length: 1, height: 1 }), 'mm');
    expect(figures.map((f) => f.value)).toEqual(['639.4 mm', '641.2 mm', '214 × 190 mm']);
  });

  it('says by how much a head does not go on', () => {
    const goes: GoesOn = { passes: false, opening: 600, needed: 630, short: 30, vertices: [], help: [] };
    expect(goesOnSentence(goes, 'mm')).toMatch(
      /does not go on.*600 mm round inside, 30 mm less than the 630 mm/,
    );
    expect(goesOnSentence({ ...goes, passes: true, opening: 700, short: 0 }, 'mm')).toMatch(
      /^It goes on.*700 mm/,
    );
  });
});

describe('places on the shell', () => {
  // A strip of 50 × 20, turned upright about its lower edge.
  const pattern = patternOf([rectangle('A', 0, 50, 20)]);
  const shell = {
    vertices: [p(0, 0, 0), p(50, 0, 0), p(50, 0, 20), p(0, 0, 20)],
    faces: [
      {
        piece: 'piece-A',
        face: 'f',
        flat: [
          { x: 0, y: 0 },
          { x: 50.02, y: 0 },
          { x: 50, y: 20 },
          { x: 0, y: 20 },
        ],
        vertices: [0, 1, 2, 3],
      },
    ],
  } as unknown as Shell;

  it('are where the ends of edges were folded to', () => {
    expect(endOnShell(pattern, shell, { edge: 'A-right', end: 'end' })).toEqual(p(50, 0, 20));
    expect(endOnShell(pattern, shell, { edge: 'gone', end: 'end' })).toBeNull();
    const d = distanceOnShell(
      pattern,
      shell,
      { edge: 'A-below', end: 'start' },
      { edge: 'A-right', end: 'end' },
    );
    expect(d).toBeCloseTo(Math.hypot(50, 20), 9);
  });
});
