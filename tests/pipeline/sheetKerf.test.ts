/** Kerf in the cut files of sheets: outlines that carry it are those that do not, grown by half of it, in place. */
import { areaD, EndType, FillRule, inflatePathsD, JoinType, xorD } from 'clipper2-ts';
import DxfParser from 'dxf-parser';
import { beforeAll, describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import type { CuttingDecisions, ProjectDocument } from '../../src/model';
import { laidOf, nestPanels, sheetJobOf } from '../../src/nest';
import { createPipeline, makeSheetFile } from '../../src/pipeline';
import { lettering, smallDocument } from './support';

interface Spot {
  readonly x: number;
  readonly y: number;
}

const kerf = 0.8;
const own = smallDocument.decisions;
const bare: ProjectDocument = {
  ...smallDocument,
  decisions: {
    ...own,
    // Two loose plates are no shell: their girth is given.
    shell: { ...own.shell, foldUp: false },
    fit: { ...own.fit, girth: { kind: 'typed', length: 500 } },
    foam: { ...own.foam, kerf },
  },
};
const pipeline = createPipeline(lettering);

describe('kerf in the cut files of sheets', () => {
  let document = bare;
  beforeAll(async () => {
    const { foam } = await pipeline.run(bare, unwatched);
    const { sheets, build } = bare.decisions;
    const job = sheetJobOf(foam!.panels, sheets, {
      traced: bare.decisions.foam.traced,
      kerf,
      usual: build.sheet,
    });
    const settings = {
      ...{ gap: job.gap, margin: job.margin, seed: 1, clock: () => 0 },
      effort: { kind: 'evaluations' as const, evaluations: 2000 },
    };
    const layout = await nestPanels(job.panels, job.sheets, settings, unwatched);
    document = {
      ...bare,
      decisions: { ...bare.decisions, sheets: { ...sheets, laid: laidOf(layout, job) } },
    };
  }, 60_000);

  /** Outlines to be cut, read by a parser that is not ours. */
  async function cuts(of: CuttingDecisions['kerf']): Promise<Spot[][]> {
    const { cutting } = document.decisions;
    const asked = { ...document, decisions: { ...document.decisions, cutting: { ...cutting, kerf: of } } };
    const file = await makeSheetFile(0, 'dxf', await pipeline.run(asked, unwatched), asked, lettering);
    if (!file.ok) throw new Error(file.issues[0]!.message);
    return new DxfParser()
      .parseSync(file.value)!
      .entities.filter((e) => e.layer === 'CUT')
      .map((e) => (e as unknown as { vertices: Spot[] }).vertices.map(({ x, y }) => ({ x, y })));
  }

  it('left out, half of it all round is missing and nothing has moved', async () => {
    const [carried, finished] = [await cuts('in'), await cuts('out')];
    expect(carried).toHaveLength(2);
    expect(finished).toHaveLength(2);
    finished.forEach((ring, k) => {
      const grown = inflatePathsD([ring], kerf / 2, JoinType.Miter, EndType.Polygon, 4, 6);
      const area = Math.abs(areaD(carried[k]!));
      expect(area - Math.abs(areaD(ring))).toBeGreaterThan(kerf * 100);
      expect(Math.abs(areaD(grown[0]!) - area)).toBeLessThan(0.02);
      const apart = xorD([carried[k]!], grown, FillRule.NonZero, 6);
      expect(apart.reduce((sum, r) => sum + Math.abs(areaD(r)), 0)).toBeLessThan(0.05);
    });
  });
});
