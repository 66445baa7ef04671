/** A run after any changes equals a run from scratch; what did not change is not made again. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import { type Decisions, noResults, type ProjectDocument, type Results } from '../../src/model';
import { createPipeline } from '../../src/pipeline';
import { seamIdOf } from '../../src/seams';
import { lettering, smallDocument } from '../pipeline/support';

type Alter = (d: Decisions) => Decisions;

const set =
  <S extends keyof Decisions>(section: S, part: Partial<Decisions[S]>): Alter =>
  (d) => ({ ...d, [section]: { ...d[section], ...part } });

const anyAlteration: fc.Arbitrary<Alter> = fc.oneof(
  fc.constantFrom(2, 5, 8).map((thickness) => set('foam', { thickness })),
  fc.constantFrom('bevel' as const, 'square' as const).map((preparation) => set('foam', { preparation })),
  fc.constantFrom('outside' as const, 'inside' as const).map((traced) => set('foam', { traced })),
  fc.constantFrom(0, 0.3).map((kerf) => set('foam', { kerf })),
  fc
    .constantFrom(null, 0.4)
    .map((seam) => set('foam', { roleBends: { mountain: 0.3, valley: -0.3, unknown: null, seam } })),
  fc.boolean().map((useNumbers) => set('seams', { useNumbers })),
  fc.boolean().map((stripTabs) => set('reading', { stripTabs })),
  fc.constantFrom(0.9, 1, 1.1).map((percent) => set('fit', { how: 'percent', percent })),
  fc.boolean().map((notches) => set('marks', { notches })),
  fc.constantFrom(3, 5).map((letterHeight) => set('marks', { letterHeight })),
  fc.constantFrom('A4' as const, 'Letter' as const).map((paper) => set('pages', { paper })),
  fc.constantFrom('tiled' as const, 'whole' as const).map((arrangement) => set('pages', { arrangement })),
);

describe('laws of the pipeline', () => {
  it('incremental = from scratch, part by part', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(anyAlteration, { minLength: 1, maxLength: 5 }), async (alterations) => {
        const grown = createPipeline(lettering);
        let document: ProjectDocument = smallDocument;
        let told: Results = noResults;
        const listen = (part: Partial<Results>) => {
          told = { ...told, ...part };
        };
        await grown.run(document, unwatched, listen);
        let last: Results = noResults;
        for (const alter of alterations) {
          document = { ...document, decisions: alter(document.decisions) };
          // As it comes through a worker: equal, but no longer the same objects.
          last = await grown.run(structuredClone(document), unwatched, listen);
        }
        const fresh = await createPipeline(lettering).run(document, unwatched);
        expect(last).toEqual(fresh);
        expect(told).toEqual(fresh);
        expect(fresh.pages?.pages.length).toBeGreaterThan(0);
      }),
      { numRuns: 8 },
    );
  }, 120_000);

  it('pairing and taking apart by hand comes back to the same results', async () => {
    const pipeline = createPipeline(lettering);
    const before = await pipeline.run(smallDocument, unwatched);
    const seam = before.seams!.seams[0]!;
    expect(seam.id).toBe(seamIdOf(seam.a.edge, seam.b.edge));
    const apart = set('seams', { rejected: [seam.id] })(smallDocument.decisions);
    const without = await pipeline.run({ ...smallDocument, decisions: apart }, unwatched);
    expect(without.seams!.seams.map((s) => s.id)).not.toContain(seam.id);
    const again = await pipeline.run(smallDocument, unwatched);
    expect(again).toEqual(before);
  });
});
