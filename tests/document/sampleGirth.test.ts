/** Samples come with their girth measured: on the real samples, with the real reader. */
import { describe, expect, it } from 'vitest';
import { createEditor } from '../../app/document/editor';
import { linesAt, measureWhenRead } from '../../app/document/sampleGirth';
import type { SampleMeasure } from '../../app/document/samples';
import { noResults } from '../../app/document/session';
import { readDrawing } from '../../src/drawing';
import { edgeChainLength } from '../../src/fit';
import { defaultDecisions, type Pattern, type ReadingDecisions } from '../../src/model';
import { readPattern } from '../../src/reading';
import { sampleText } from '../pipeline/support';

interface Listed {
  readonly id: string;
  readonly files: readonly {
    readonly manner: string;
    readonly file: string;
    readonly measure: SampleMeasure | null;
  }[];
}

const listed = JSON.parse(sampleText('samples.json')) as readonly Listed[];
const measured = listed.flatMap((s) =>
  s.files.flatMap(({ file, manner, measure }) => (measure ? [{ file, manner, measure }] : [])),
);
const bracer = (manner: string) => measured.find((m) => m.file === `keel-bracer.${manner}.svg`)!;

function read(file: string, size: ReadingDecisions['size']): Pattern {
  const drawing = readDrawing({ name: file, svg: sampleText(file) }, { file: 0, size });
  if (!drawing.ok) throw new Error(`${file} can’t be read`);
  return readPattern(drawing.value, { ...defaultDecisions.reading, size });
}

const ask = { kind: 'ask' } as const;
const at = (value: number) => ({ kind: 'perInch', value }) as const;

/** A bench with a sample on it; `settle` answers the unit question and brings the pattern as the worker would. */
function bench(file: string, measure: SampleMeasure) {
  const editor = createEditor(() => 0);
  const document = {
    title: 'Sample',
    sources: [{ name: file, svg: sampleText(file) }],
    decisions: defaultDecisions,
    lengthUnit: 'mm' as const,
  };
  editor.show(document, 's1');
  measureWhenRead(editor, measure);
  const bring = (pattern: Pattern) => editor.report({ results: { ...noResults, pattern } });
  const settle = (value: number) => {
    editor.decide('Units', (d) => ({ ...d, reading: { ...d.reading, size: at(value) } }));
    bring(read(file, at(value)));
  };
  const now = () => editor.session.getState();
  return { editor, bring, settle, now, girth: () => now().document?.decisions.fit.girth };
}

describe('the girth of a sample', () => {
  it.each(measured)(
    'is found on $file, with the length that the sample was made with',
    ({ file, measure }) => {
      const pattern = read(file, at(96));
      const edges = linesAt(pattern, measure.middles);
      expect(edges).toHaveLength(measure.middles.length);
      expect(new Set(edges).size).toBe(measure.middles.length);
      // Middles and lengths are listed to 0.001 mm; the loose drawings have gaps of up to 0.1 mm at line ends.
      expect(edgeChainLength(pattern, edges!)).toBeCloseTo(measure.length, 0);
    },
  );

  it('is there on opening, with nothing to undo', () => {
    const { file, measure } = bracer('clean');
    const { bring, girth, now } = bench(file, measure);
    expect(girth()).toEqual({ kind: 'none' });
    bring(read(file, ask));
    expect(girth()).toMatchObject({ kind: 'edges' });
    expect(now().canUndo).toBeNull();
  });

  it('waits for the unit of a drawing without size, and is a step of its own then', () => {
    const { file, measure } = bracer('loose');
    const { editor, bring, settle, girth, now } = bench(file, measure);
    bring(read(file, ask));
    expect(girth()).toEqual({ kind: 'none' });
    settle(96);
    expect(girth()).toMatchObject({ kind: 'edges' });
    expect(now().canUndo).toBe('Measure the wrist girth along the edges');
    editor.undo();
    expect(girth()).toEqual({ kind: 'none' });
    bring(read(file, at(96)));
    expect(girth()).toEqual({ kind: 'none' });
    editor.redo();
    expect(girth()).toMatchObject({ kind: 'edges' });
  });

  it('stays open at another unit', () => {
    const { file, measure } = bracer('loose');
    const { settle, girth } = bench(file, measure);
    settle(90);
    expect(girth()).toEqual({ kind: 'none' });
    settle(96);
    expect(girth()).toMatchObject({ kind: 'edges' });
  });

  it('is left to the person who measured first, and to the document it belongs to', () => {
    const { file, measure } = bracer('clean');
    const pattern = read(file, ask);
    const typed = { kind: 'typed', length: 300 } as const;
    const mine = bench(file, measure);
    mine.editor.decide('Type', (d) => ({ ...d, fit: { ...d.fit, girth: typed } }));
    mine.bring(pattern);
    mine.editor.undo();
    mine.bring({ ...pattern });
    expect(mine.girth()).toEqual({ kind: 'none' });

    const other = bench(file, measure);
    other.editor.show({ ...other.now().document!, title: 'Other' }, 's2');
    other.bring(pattern);
    expect(other.girth()).toEqual({ kind: 'none' });
  });

  it('is not measured in part', () => {
    const { file, measure } = bracer('clean');
    const pattern = read(file, ask);
    expect(linesAt(pattern, [...measure.middles, [-50, 50]])).toBeNull();
  });
});
