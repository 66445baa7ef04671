import { describe, expect, it } from 'vitest';
import { defaultDecisions, isFoldText } from '../../src/model';
import { saveProject } from '../../src/project';
import { codes, issueOf, outcomeOf, readFile } from './support';

const triangle = {
  file_spec: 1.2,
  frame_unit: 'mm',
  vertices_coords: [
    [0, 0],
    [60, 0],
    [0, 80],
  ] as unknown[],
  edges_vertices: [
    [0, 1],
    [1, 2],
    [2, 0],
  ] as unknown[],
  edges_assignment: ['B', 'B', 'B'] as unknown[],
};
const text = (changes: object = {}) => JSON.stringify({ ...triangle, ...changes }, null, 1);

describe('FOLD files', () => {
  it('are known by their content, not their name', () => {
    expect(isFoldText(`\n ${text()}`)).toBe(true);
    expect(isFoldText('<svg xmlns="http://www.w3.org/2000/svg"/>')).toBe(false);
    expect(isFoldText('{"format":"something"}')).toBe(false);
    const project = saveProject({
      title: 'Keel bracer',
      sources: [{ name: 'a.fold', svg: text() }],
      decisions: defaultDecisions,
      lengthUnit: 'mm',
    });
    expect(isFoldText(project)).toBe(false);
    expect(readFile(`\ufeff${text()}`).lines).toHaveLength(3);
  });

  it('lie on a page with the origin at its top-left corner, y up', () => {
    const { lines, size } = readFile(text());
    expect(size).toEqual({ width: 68, height: 88, from: { kind: 'physical' } });
    expect(lines[0]!.start).toEqual({ x: 4, y: -84 });
    expect(lines[0]!.source).toEqual({ file: 'test.svg', line: 19, column: 3 });
    expect(lines.map((l) => l.id)).toEqual(['0:0:0', '0:1:0', '0:2:0']);
  });

  it.each([
    ['cut off', text().slice(0, text().indexOf('60')), 'value'],
    ['a number that JSON does not know', text().replace('80', 'NaN'), 'value'],
    ['a comma too many', text().replace('80', '80,'), 'value'],
    ['an open quote', text().replace('"B",', '"B,'), 'closing quote'],
    ['text after the end', `${text()} more`, 'end of the file'],
    ['brackets without end', `{"file_spec": ${'['.repeat(5000)}`, 'levels of brackets'],
  ])('damaged: %s', (_, damaged, expected) => {
    const outcome = outcomeOf(damaged);
    expect(outcome.ok).toBe(false);
    const issue = issueOf(outcome, 'fold-damaged');
    expect(issue.message).toContain(expected);
    expect(issue.place.source).toBeDefined();
  });

  it('names line and column of the damage', () => {
    const broken = text().replace('"edges_vertices": [', '"edges_vertices": (');
    const { place } = issueOf(outcomeOf(broken), 'fold-damaged');
    const lines = broken.split('\n');
    const line = lines.findIndex((l) => l.includes('('));
    expect(place.source).toEqual({ file: 'test.svg', line: line + 1, column: lines[line]!.indexOf('(') + 1 });
  });

  it('of folded forms alone are refused with the reason', () => {
    const outcome = outcomeOf(
      text({
        vertices_coords: [
          [0, 0, 0],
          [60, 0, 9],
          [0, 80, 5],
        ],
      }),
    );
    expect(outcome.ok).toBe(false);
    expect(codes(outcome)).toEqual(['fold-only-folded']);
  });

  it('without coordinates are refused', () => {
    const { vertices_coords: _, ...abstract } = triangle;
    expect(codes(outcomeOf(JSON.stringify(abstract)))).toEqual(['fold-nothing-drawn']);
  });

  it('lose what is damaged in them, and say so with its place', () => {
    const drawing = readFile(
      text({
        vertices_coords: [
          [0, 0],
          [60, 0],
          [0, 80],
          ['x', null],
          [5, 5],
        ],
        edges_vertices: [[0, 1], [1, 2], [2, 0], [0, 3], [0, 99], [1], 'oops', [4, 4]],
        edges_assignment: ['B', 'B', 'B', 'Q'],
        faces_vertices: [
          [0, 1, 2],
          [0, 1],
          [0, 1, 77],
        ],
      }),
    );
    expect(drawing.lines).toHaveLength(3);
    const found = codes(drawing);
    for (const code of ['fold-vertex-damaged', 'fold-edge-damaged', 'fold-face-damaged', 'fold-list-length'])
      expect(found).toContain(code);
    expect(found.filter((c) => c === 'fold-edge-damaged')).toHaveLength(4);
    for (const issue of drawing.issues) expect(issue.place.source?.line).toBeGreaterThan(1);
  });

  it('with letters that the format does not know count as not assigned', () => {
    const drawing = readFile(text({ edges_assignment: ['B', 'm', 7] }));
    expect(drawing.lines.map((l) => l.style.assigned)).toEqual(['outline', 'mountain', undefined]);
    expect(codes(drawing)).toEqual(['fold-assignment-unknown']);
  });

  it('of another version are read, and it is told', () => {
    expect(codes(readFile(text({ file_spec: 2 })))).toEqual(['fold-version']);
  });

  it('keep within the limits', () => {
    const outcome = outcomeOf(text(), { file: 0, size: { kind: 'ask' }, limits: { bytes: 100 } });
    expect(codes(outcome)).toEqual(['file-too-large']);
  });
});
