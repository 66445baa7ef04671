import { describe, expect, it } from 'vitest';
import { Cancelled, unwatched, type Work } from '../../src/base';
import { type Decisions, isMapPage, noResults, type Results } from '../../src/model';
import { createPipeline, makePagesPdf, makePanelsSvg, realStages, type Stages } from '../../src/pipeline';
import { lettering, sampleDocument, smallDocument } from './support';

/** The real stages, counting how often each is run. */
function counting() {
  const counts: Record<string, number> = {};
  const stages = Object.fromEntries(
    Object.entries(realStages).map(([name, stage]) => [
      name,
      (...args: unknown[]) => {
        counts[name] = (counts[name] ?? 0) + 1;
        return (stage as (...a: unknown[]) => unknown)(...args);
      },
    ]),
  ) as unknown as Stages;
  const pipeline = createPipeline(lettering, stages);
  return {
    pipeline,
    /** Stages run since the last call. */
    ran() {
      const names = Object.keys(counts).sort();
      for (const name of names) delete counts[name];
      return names;
    },
  };
}

const plates = smallDocument;

const all = [
  'fitPattern',
  'foldPattern',
  'joinDrawings',
  'layPages',
  'makePanels',
  'markPanels',
  'planBuild',
  'planSheets',
  'readDrawing',
  'readPattern',
  'recutPattern',
  'turnShell',
  'verifySeams',
];

describe('what is run again', () => {
  const cases: readonly (readonly [string, (d: Decisions) => Decisions, readonly string[]])[] = [
    ['nothing', (d) => structuredClone(d), []],
    ['pages', (d) => ({ ...d, pages: { ...d.pages, paper: 'A3' } }), ['layPages']],
    [
      'thickness',
      (d) => ({ ...d, foam: { ...d.foam, thickness: 7 } }),
      ['fitPattern', 'layPages', 'makePanels', 'markPanels', 'planBuild', 'planSheets'],
    ],
    [
      'seam preparation',
      (d) => ({ ...d, foam: { ...d.foam, preparation: 'square' } }),
      ['fitPattern', 'layPages', 'makePanels', 'markPanels', 'planBuild', 'planSheets'],
    ],
    [
      'trust in a doubtful shell',
      (d) => ({ ...d, shell: { ...d.shell, trustDoubtful: true } }),
      ['fitPattern', 'layPages', 'makePanels', 'markPanels', 'planBuild', 'planSheets'],
    ],
    [
      'a split of panels',
      (d) => ({ ...d, panels: { ...d.panels, edits: [{ kind: 'cut', id: 'e1', lines: [] }] } }),
      ['recutPattern'],
    ],
    [
      'letter height',
      (d) => ({ ...d, marks: { ...d.marks, letterHeight: 6 } }),
      ['layPages', 'markPanels', 'planBuild'],
    ],
    [
      'an answer that changes nothing',
      (d) => ({ ...d, reading: { ...d.reading, stripTabs: false } }),
      ['readPattern'],
    ],
    [
      'the size where the file states one',
      (d) => ({ ...d, reading: { ...d.reading, size: { kind: 'perInch', value: 90 } } }),
      ['joinDrawings', 'readDrawing', 'readPattern'],
    ],
  ];

  it.each(cases)('after a change of %s', async (_name, alter, expected) => {
    const { pipeline, ran } = counting();
    await pipeline.run(plates, unwatched);
    expect(ran()).toEqual(all);
    await pipeline.run({ ...plates, decisions: alter(plates.decisions) }, unwatched);
    expect(ran()).toEqual(expected);
  });

  it.each<readonly [string, (d: Decisions) => Decisions]>([
    ['the head', (d) => ({ ...d, fit: { ...d.fit, head: 580 } })],
    ['the brow', (d) => ({ ...d, fit: { ...d.fit, brow: { at: 0.4, tilt: null } } })],
    ['marks', (d) => ({ ...d, marks: { ...d.marks, notches: false } })],
    ['one half', (d) => ({ ...d, pages: { ...d.pages, half: true } })],
    ['which way the shell stands', (d) => ({ ...d, shell: { ...d.shell, turned: { x: 0.2, y: 0, z: 0 } } })],
  ])('%s changes and nothing is matched or folded again', async (_name, alter) => {
    const { pipeline, ran } = counting();
    const before = await pipeline.run(plates, unwatched);
    ran();
    const after = await pipeline.run({ ...plates, decisions: alter(plates.decisions) }, unwatched);
    const again = ran();
    expect(again.length).toBeGreaterThan(0);
    for (const stage of ['verifySeams', 'foldPattern', 'readPattern']) expect(again).not.toContain(stage);
    expect(after.seams).toBe(before.seams);
    expect(after.shell!.bends).toBe(before.shell!.bends);
  });

  it('after a change of the role of a line, and the other piece stays the same object', async () => {
    const { pipeline, ran } = counting();
    const { lines } = (await pipeline.run(plates, unwatched)).drawing!;
    const dashed = (count: number) => lines.find((l) => l.style.dash.length === count)!.id;
    const withRoles = (lineRoles: Decisions['reading']['lineRoles']) => ({
      ...plates,
      decisions: { ...plates.decisions, reading: { ...plates.decisions.reading, lineRoles } },
    });
    // Said outright, so that it does not hang on the line that is left out next.
    const valley = { [dashed(2)]: 'valley' as const };
    const before = await pipeline.run(withRoles(valley), unwatched);
    ran();
    const after = await pipeline.run(withRoles({ ...valley, [dashed(6)]: 'ignore' }), unwatched);
    expect(ran()).toEqual(all.filter((s) => !/Drawing/.test(s)));
    const folds = (r: Results) => r.pattern!.pieces.map((p) => p.folds.length).sort();
    expect([folds(before), folds(after)]).toEqual([
      [1, 1],
      [0, 1],
    ]);
    const kept = after.pattern!.pieces.filter((p) => before.pattern!.pieces.includes(p));
    expect(kept.map((p) => p.folds.map((f) => f.role))).toEqual([['valley']]);
  });

  it('a second page leaves the reading of the first alone', async () => {
    let reads = 0;
    const pipeline = createPipeline(lettering, {
      ...realStages,
      readDrawing: (...args) => {
        reads++;
        return realStages.readDrawing(...args);
      },
    });
    await pipeline.run(plates, unwatched);
    const more = { ...plates, sources: [...plates.sources, { ...plates.sources[0]!, name: 'second.svg' }] };
    const results = await pipeline.run(structuredClone(more), unwatched);
    expect(reads).toBe(2);
    const once = (await createPipeline(lettering).run(plates, unwatched)).pattern!.pieces.length;
    expect(results.pattern!.pieces).toHaveLength(2 * once);
  });
});

describe('trouble', () => {
  it('goes on without a file that can’t be read, and says so', async () => {
    const pipeline = createPipeline(lettering);
    const with1 = { ...plates, sources: [{ name: 'notes.txt', svg: 'hello' }, ...plates.sources] };
    const results = await pipeline.run(with1, unwatched);
    expect(results.pattern!.pieces.length).toBeGreaterThan(0);
    expect(results.issues.some((i) => i.severity === 'error' && i.stage === 'drawing')).toBe(true);
  });

  it('clears everything when nothing can be read any more', async () => {
    const pipeline = createPipeline(lettering);
    let told: Results = noResults;
    const listen = (part: Partial<Results>) => {
      told = { ...told, ...part };
    };
    await pipeline.run(plates, unwatched, listen);
    expect(told.pages).not.toBeNull();
    const results = await pipeline.run(
      { ...plates, sources: [{ name: 'notes.txt', svg: 'hello' }] },
      unwatched,
      listen,
    );
    expect(results).toMatchObject({ drawing: null, pattern: null, pages: null });
    expect(told).toEqual(results);
    expect(results.issues.length).toBeGreaterThan(0);
  });

  it('keeps what came before a stage that stops on a fault, and names it', async () => {
    let faulty = true;
    const pipeline = createPipeline(lettering, {
      ...realStages,
      makePanels: (...args) => {
        if (faulty) throw new RangeError('no such corner');
        return realStages.makePanels(...args);
      },
    });
    const broken = await pipeline.run(plates, unwatched);
    expect(broken.fit).not.toBeNull();
    expect(broken).toMatchObject({ foam: null, marked: null, pages: null });
    const issue = broken.issues.find((i) => i.code === 'stage-stopped');
    expect(issue).toMatchObject({ stage: 'foam', severity: 'error' });
    expect(issue?.message).toContain('no such corner');
    faulty = false;
    expect(await pipeline.run(plates, unwatched)).toEqual(
      await createPipeline(lettering).run(plates, unwatched),
    );
  });

  it('goes on with what flat outlines tell when the fold-up that checks seams stops', async () => {
    let checks = 0;
    const pipeline = createPipeline(lettering, {
      ...realStages,
      verifySeams: async () => {
        checks++;
        throw new RangeError('no such corner');
      },
    });
    const results = await pipeline.run(plates, unwatched);
    expect(results.seams).toEqual(realStages.matchSeams(results.pattern!, plates.decisions.seams));
    expect(results.seams!.seams.length).toBeGreaterThan(0);
    expect(results.pages!.pages.length).toBeGreaterThan(0);
    const issue = results.issues.find((i) => i.code === 'seams-unchecked');
    expect(issue).toMatchObject({ stage: 'seams', severity: 'warning' });
    expect(issue?.message).toContain('no such corner');
    // The same fault is not run into again while nothing changes.
    await pipeline.run(structuredClone(plates), unwatched);
    expect(checks).toBe(1);
  });

  it('goes on without a shell when folding up stops, and tries again', async () => {
    let faulty = true;
    const pipeline = createPipeline(lettering, {
      ...realStages,
      foldPattern: async (...args) => {
        if (faulty) throw new RangeError('no such corner');
        return realStages.foldPattern(...args);
      },
    });
    let told: Results = noResults;
    const broken = await pipeline.run(plates, unwatched, (part) => {
      told = { ...told, ...part };
    });
    expect(broken.shell).toBeNull();
    expect(told).toEqual(broken);
    expect(broken.pages!.pages.length).toBeGreaterThan(0);
    expect(broken.issues.find((i) => i.code === 'stage-stopped')).toMatchObject({ stage: 'shell' });
    faulty = false;
    const mended = await pipeline.run(plates, unwatched);
    expect(mended).toEqual(await createPipeline(lettering).run(plates, unwatched));
    expect(mended.shell).not.toBeNull();
  });

  it('has no shell when folding up is off, or there is nothing to fold', async () => {
    const off = { ...plates.decisions, shell: { ...plates.decisions.shell, foldUp: false } };
    const flat = await createPipeline(lettering).run({ ...plates, decisions: off }, unwatched);
    expect(flat.shell).toBeNull();
    expect(flat.pages!.pages.length).toBeGreaterThan(0);
    const disc =
      '<svg xmlns="http://www.w3.org/2000/svg" width="99mm" height="99mm" viewBox="0 0 99 99"><circle cx="50" cy="50" r="30" fill="none" stroke="#000"/></svg>';
    const one = { ...plates, sources: [{ name: 'disc.svg', svg: disc }] };
    const results = await createPipeline(lettering).run(one, unwatched);
    expect(results.pattern!.pieces).toHaveLength(1);
    expect(results.shell).toBeNull();
  });

  it('turns the shell without changing what is cut', async () => {
    const pipeline = createPipeline(lettering);
    const plain = await pipeline.run(plates, unwatched);
    const turned = { ...plates.decisions.shell, turned: { x: 0, y: 0, z: Math.PI / 2 } };
    const after = await pipeline.run(
      { ...plates, decisions: { ...plates.decisions, shell: turned } },
      unwatched,
    );
    // A quarter turn about the upright axis, counter-clockwise seen from above: right becomes front.
    plain.shell!.vertices.forEach((p, i) => {
      const q = after.shell!.vertices[i]!;
      expect([q.x, q.y, q.z]).toEqual([
        expect.closeTo(-p.y, 9),
        expect.closeTo(p.x, 9),
        expect.closeTo(p.z, 9),
      ]);
    });
    expect(after.foam).toBe(plain.foam);
    // Only the map is another one: its picture of the shell turns with it.
    const templates = (r: Results) => r.pages!.pages.filter((page) => !isMapPage(page));
    expect(templates(after).length).toBeGreaterThan(0);
    expect(templates(after)).toEqual(templates(plain));
    expect(after.pages!.placements).toEqual(plain.pages!.placements);
    expect(after.pages!.pages).not.toEqual(plain.pages!.pages);
  });

  it('can be cancelled at every step, and a run after it is whole', async () => {
    const whole = await createPipeline(lettering).run(plates, unwatched);
    const pipeline = createPipeline(lettering);
    let cancelled = 0;
    for (let stopAt = 0; ; stopAt++) {
      let steps = 0;
      const work: Work = {
        step: async () => {
          if (steps++ === stopAt) throw new Cancelled();
        },
      };
      try {
        expect(await pipeline.run(plates, work)).toEqual(whole);
        break;
      } catch (error) {
        if (!(error instanceof Cancelled)) throw error;
        cancelled++;
      }
    }
    expect(cancelled).toBeGreaterThan(7);
  });

  it('reports progress that only grows', async () => {
    const fractions: number[] = [];
    await createPipeline(lettering).run(plates, {
      step: async (done, total) => void fractions.push(done / total),
    });
    expect(fractions.length).toBeGreaterThan(7);
    expect(fractions).toEqual([...fractions].sort((a, b) => a - b));
    expect(fractions.at(-1)).toBeLessThanOrEqual(1);
  });
});

describe('files', () => {
  it('writes a PDF and an SVG from a run', async () => {
    const results = await createPipeline(lettering).run(plates, unwatched);
    const pdf = await makePagesPdf(results, plates, unwatched);
    expect(pdf.ok && new TextDecoder().decode(pdf.value.slice(0, 5))).toBe('%PDF-');
    const svg = await makePanelsSvg(results, plates);
    expect(svg.ok && svg.value.includes('<svg')).toBe(true);
  });

  it('refuses while the size of the drawing is not known', async () => {
    const unsized = sampleDocument('keel-bracer.loose.svg');
    const document = {
      ...unsized,
      decisions: {
        ...unsized.decisions,
        reading: { ...unsized.decisions.reading, size: { kind: 'ask' as const } },
      },
    };
    const results = await createPipeline(lettering).run(document, unwatched);
    expect(results.drawing!.size.from.kind).toBe('none');
    for (const made of [
      await makePagesPdf(results, document, unwatched),
      await makePanelsSvg(results, document),
    ]) {
      expect(made.ok).toBe(false);
      expect(made.issues[0]?.code).toBe('size-not-known');
    }
  });

  it('refuses with the findings when there is nothing to write', async () => {
    const made = await makePagesPdf(noResults, plates, unwatched);
    expect(made.ok).toBe(false);
    expect(made.issues.at(-1)?.code).toBe('nothing-to-write');
  });
});
