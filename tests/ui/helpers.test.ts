import { describe, expect, it } from 'vitest';
import { nameFoamRows, summariseFoam } from '../../app/steps/foam/foamRows';
import { letteringInk, strokesByKind } from '../../app/steps/pages/pageInk';
import { readHead } from '../../app/steps/size/readHead';
import { percentText, stepText } from '../../app/steps/size/words';
import { groupFindings, summariseFindings } from '../../app/ui/findingGroups';
import { pastedFile } from '../../app/ui/pastedText';
import { pointsOf, pointsOfIssue } from '../../app/ui/where';
import type { FoamResult, FoamSeamRow, Page } from '../../src/model';
import { fold, issue, patternOf, rectangle, seam, seamsOf } from './shapes';

describe('a typed head girth', () => {
  it('reads tape and hat sizes', () => {
    expect(readHead('58 cm', 'tape', 'mm')).toEqual({ ok: true, value: 580 });
    expect(readHead('58', 'eu', 'mm')).toEqual({ ok: true, value: 580 });
    const us = readHead('7 1/4', 'us', 'in');
    expect(us.ok && us.value).toBeCloseTo(7.25 * Math.PI * 25.4, 9);
  });

  it('catches a number typed in another unit, and keeps it in the question', () => {
    expect(readHead('58', 'tape', 'mm')).toEqual({
      ok: false,
      reason: '58 mm is too small for a head. With its unit, like 58 cm?',
    });
    expect(readHead('580', 'tape', 'in')).toEqual({
      ok: false,
      reason: '580 in is too large for a head. With its unit, like 580 mm?',
    });
    expect(readHead('7', 'eu', 'mm').ok).toBe(false);
  });
});

describe('words for the scale', () => {
  it('rounds to a tenth of a percent, ratios to four places', () => {
    expect(percentText(0.97349)).toBe('97.3 %');
    expect(stepText({ label: 'x', formula: '', value: 0.973456, unit: 'ratio' }, 'mm')).toBe('0.9735');
    expect(stepText({ label: 'x', formula: '', value: 25.4, unit: 'mm' }, 'in')).toBe('1 in');
  });
});

describe('findings', () => {
  const issues = [
    issue('layout', 'note'),
    issue('reading', 'note', { code: 'b' }),
    issue('reading', 'error', { code: 'a' }),
    issue('seams', 'warning'),
    issue('drawing', 'repaired'),
  ];

  it('are grouped in the order of the work, heaviest first', () => {
    const groups = groupFindings(issues, 'all');
    expect(groups.map((group) => group.stage)).toEqual(['drawing', 'reading', 'seams', 'layout']);
    expect(groups[1]?.issues.map((i) => i.code)).toEqual(['a', 'b']);
    expect(groupFindings(issues, 'seams')).toHaveLength(1);
    expect(groupFindings(issues, 'fit')).toEqual([]);
  });

  it('are summed up in words', () => {
    expect(summariseFindings(issues)).toBe('1 will fail, 1 to look at, 1 repaired, 2 notes');
    expect(summariseFindings([])).toBe('nothing found');
  });
});

describe('where a finding is', () => {
  const pattern = patternOf([
    rectangle('A', 0, 50, 20, { folds: [fold('x', 'valley')] }),
    rectangle('B', 100, 5, 5),
  ]);
  const seams = seamsOf([seam('s1', 'A-below', 'B-above')]);
  const known = { drawing: null, pattern, seams };

  it('follows a seam and a run to both its edges', () => {
    expect(pointsOf(['s1'], known)).toHaveLength(4);
    expect(pointsOf(['run1'], known)).toEqual(pointsOf(['s1'], known));
    expect(pointsOf(['s1'], known)).toContainEqual({ x: 105, y: 5 });
  });

  it('finds pieces, folds and nothing for ids that nothing has', () => {
    expect(pointsOf(['piece-B'], known)).toHaveLength(8);
    expect(pointsOf(['x'], known)).toHaveLength(2);
    expect(pointsOf(['gone'], known)).toEqual([]);
    expect(pointsOf(['s1'], { drawing: null, pattern: null, seams: null })).toEqual([]);
  });

  it('adds the finding’s own position', () => {
    const found = issue('reading', 'error', { place: { at: { x: 3, y: 4 }, ids: ['gone'] } });
    expect(pointsOfIssue(found, known)).toEqual([{ x: 3, y: 4 }]);
  });
});

describe('pasted text', () => {
  it('is a drawing or a project or neither', () => {
    expect(pastedFile('  <?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"/>')?.name).toBe(
      'pasted.svg',
    );
    expect(pastedFile('<svg:svg xmlns:svg="http://www.w3.org/2000/svg"/>')?.name).toBe('pasted.svg');
    expect(pastedFile('{"format": "x", "version": 1}')?.name).toBe('pasted.json');
    expect(pastedFile('{"file_spec": 1.2, "vertices_coords": []}')?.name).toBe('pasted.fold');
    expect(pastedFile('<p>svg</p>')).toBeNull();
    expect(pastedFile('58 cm')).toBeNull();
  });
});

describe('the foam seam list', () => {
  const row = (seamId: string, run: number, more: Partial<FoamSeamRow> = {}): FoamSeamRow => ({
    seam: seamId,
    run,
    preparation: 'bevel',
    bend: null,
    bevel: 0,
    way: 'flat',
    neutralA: 50,
    neutralB: 50,
    stretchA: 0,
    stretchB: 0,
    lengthA: 50,
    lengthB: 50,
    mismatch: 0,
    openWedge: 0,
    touches: 'both',
    ...more,
  });
  const foam: FoamResult = {
    panels: [],
    rows: [
      row('s1', 1, { mismatch: -2, bevel: -0.4 }),
      row('s2', 1, { openWedge: 3 }),
      row('s3', 2, { bevel: 0.2 }),
    ],
    unsetBends: [],
    issues: [],
  };
  const seams = seamsOf([], {
    runs: [
      { id: 'run1', number: 1, seams: ['s1', 's2'] },
      { id: 'run2', number: 2, seams: ['s3'] },
    ],
  });

  it('names parts of a run, and whole runs by their number', () => {
    expect(nameFoamRows(foam, seams).map((r) => r.name)).toEqual(['1.1', '1.2', '2']);
  });

  it('sums up the worst of each figure, signs aside', () => {
    expect(summariseFoam(foam)).toEqual({ worstMismatch: 2, widestWedge: 3, steepestBevel: 0.4 });
  });
});

describe('page pictures', () => {
  it('gather strokes by kind and close what is closed', () => {
    const points = [
      { x: 0, y: 0 },
      { x: 10.123456, y: 0 },
    ];
    const page: Page = {
      name: 'A1',
      row: 1,
      column: 1,
      origin: { x: 0, y: 0 },
      neighbours: { left: '', right: '', above: '', below: '' },
      strokes: [
        { kind: 'cut', points, closed: false },
        { kind: 'valley', points, closed: false },
        { kind: 'cut', points, closed: true },
      ],
      lettering: [],
      registration: [],
      panels: [],
    };
    expect(strokesByKind(page)).toEqual([
      { kind: 'cut', path: 'M0 0L10.12 0M0 0L10.12 0Z' },
      { kind: 'valley', path: 'M0 0L10.12 0' },
    ]);
    expect(letteringInk(page)).toBe('');
  });
});
