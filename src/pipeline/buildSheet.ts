/** The build sheet: cut list, gluing order with pictures, what it takes, cautions where they matter. */
import { fail, type Outcome, succeed, type Work } from '../base';
import { pictureLine, reachLine, runLine, stepCautions, stepDrawer, stepTitle } from '../build';
import { clearOf } from '../layout';
import { boxOf } from '../math';
import {
  type BuildPlan,
  cautions,
  type LetterShapes,
  type NeedRow,
  type Panel,
  type ProjectDocument,
  type Results,
} from '../model';
import type { BookBlock, BookPicture } from '../output';
import { formatLength, paperSizes } from '../units';
import { obstacle, refused } from './files';

/** The sheet as a PDF on the paper of the pages. */
export async function makeBuildPdf(
  results: Results,
  document: Pick<ProjectDocument, 'title' | 'decisions' | 'lengthUnit'>,
  lettering: () => Promise<LetterShapes>,
  work: Work,
): Promise<Outcome<Uint8Array>> {
  const why = obstacle(results);
  if (why) return fail(why);
  if (!results.build || !results.foam || results.build.steps.length === 0) {
    return fail(
      ...results.issues.filter((i) => i.severity === 'error'),
      refused('There is nothing to build yet.', 'Look at the findings of the earlier steps first.'),
    );
  }
  const { pages } = document.decisions;
  const paper = pages.paper === 'own' ? pages.ownSize : paperSizes[pages.paper];
  // A sheet smaller than this has no room for a picture and its text side by side: then A4 is taken.
  const roomy = Math.min(paper.width, paper.height) >= 150 ? paper : paperSizes.A4;
  const { writeBook } = await import('../output');
  const meta = {
    title: document.title,
    width: roomy.width,
    height: roomy.height,
    margin: Math.max(10, ...Object.values(clearOf(pages, roomy.width > roomy.height))),
  };
  return succeed(await writeBook(blocksOf(results, results.build, document), meta, await lettering(), work));
}

function blocksOf(
  { foam, recut }: Results,
  build: BuildPlan,
  { title, decisions, lengthUnit }: Pick<ProjectDocument, 'title' | 'decisions' | 'lengthUnit'>,
): BookBlock[] {
  const panels = new Map((foam?.panels ?? []).map((p) => [p.id, p] as const));
  const nameOf = (id: string) => panels.get(id)?.name ?? id;
  const length = (mm: number) => formatLength(mm, lengthUnit, { decimals: lengthUnit === 'mm' ? 0 : 1 });
  const caution = (topic: string): BookBlock[] =>
    cautions.filter((c) => c.topic === topic).map((c) => ({ kind: 'caution', text: c.text }));
  const { currency } = decisions.build;
  const draw = foam ? stepDrawer(recut, foam) : null;
  const blocks: BookBlock[] = [
    { kind: 'title', text: `${title}: build sheet` },
    {
      kind: 'text',
      text: `${build.steps.length} steps, material about ${currency} ${build.needs.cost.toFixed(2)}, about ${Math.round(build.needs.minutes / 60)} hours of work (${(Math.round(build.needs.days * 2) / 2).toString()} days), drying times on top. Labels, data sheets and local rules come before what is said here.`,
    },
  ];
  for (const group of build.cutList) {
    blocks.push({
      kind: 'heading',
      text: group.card ? 'Cut from card or film' : `Cut from ${length(group.thickness)} foam`,
    });
    blocks.push(...caution('blade'), ...caution('machine'));
    for (let i = 0; i < group.rows.length; i += 5)
      blocks.push({
        kind: 'pictures',
        items: group.rows.slice(i, i + 5).flatMap((row) => {
          const panel = panels.get(row.panel);
          if (!panel) return [];
          const count = row.mirrored > 0 ? `${row.quantity} + ${row.mirrored} mirrored` : `${row.quantity}`;
          const facts = [`cut ${count}, ${(row.area / 100).toFixed(0)} cm²`, `edge ${length(row.edge)}`];
          return [{ picture: panelPicture(panel), lines: [row.name, ...facts] }];
        }),
      });
  }
  blocks.push({ kind: 'heading', text: 'Glue in this order' });
  blocks.push({
    kind: 'text',
    text: 'A bevel is the tilt of the blade from square, on both panels alike. “In”: the cut leans in under the drawn face. “Out”: it flares out from it.',
  });
  if (draw)
    blocks.push({
      kind: 'text',
      text: 'Each picture shows what hangs together after the step. The seams that are glued in it, or the place of the part that comes on, are drawn as bars; broken bars are inside or behind. Where the pattern is not folded up, the panels of the step lie flat.',
    });
  build.steps.forEach((step, i) => {
    // The blade is spoken of with the cut list already.
    for (const topic of stepCautions(build.steps, i, foam?.panels ?? []))
      if (topic !== 'blade') blocks.push(...caution(topic));
    const drawn = draw?.(step);
    blocks.push({
      kind: 'step',
      done: step.done,
      title: `${i + 1}. ${stepTitle(step, nameOf)}`,
      lines: [
        ...step.runs.map((run) => runLine(run, nameOf, lengthUnit)),
        ...[reachLine(step, lengthUnit), drawn ? pictureLine(step, drawn) : null].filter(
          (line) => line !== null,
        ),
      ],
      picture:
        drawn && drawn.strokes.length > 0
          ? {
              ...drawn,
              strokes: drawn.strokes.map((s) => ({
                kind: s.kind === 'rim' ? ('notch' as const) : ('leader' as const),
                points: [s.from, s.to],
                closed: false,
                lit: s.lit,
              })),
            }
          : null,
    });
  });
  blocks.push({ kind: 'heading', text: 'What it takes' });
  const row = (cells: readonly string[], head = false): BookBlock => ({
    kind: 'row',
    cells,
    widths: [0.2, 0.5, 0.15, 0.15],
    head,
  });
  const amount = (r: NeedRow) =>
    r.unit === 'sheets'
      ? `${r.amount} ${r.amount === 1 ? 'sheet' : 'sheets'}`
      : `${r.amount.toFixed(2)} ${r.unit}`;
  blocks.push(row(['Material', 'How it is reckoned', 'Amount', currency], true));
  for (const r of build.needs.materials)
    blocks.push(row([r.label, r.formula, amount(r), r.total.toFixed(2)]));
  blocks.push(row(['Together', '', '', build.needs.cost.toFixed(2)], true));
  blocks.push(row(['Work', 'How it is reckoned', '', 'minutes'], true));
  for (const r of build.needs.work) blocks.push(row([r.label, r.formula, '', r.total.toFixed(0)]));
  blocks.push(row(['Together', '', '', build.needs.minutes.toFixed(0)], true));
  return blocks;
}

/** The traced outline, as seen from outside. */
function panelPicture({ outlines, folds }: Panel): BookPicture {
  const box = boxOf(outlines.traced.flat());
  const move = (points: Panel['outlines']['traced'][number]) =>
    points.map((p) => ({ x: p.x - box.minX, y: p.y - box.minY }));
  return {
    width: box.maxX - box.minX,
    height: box.maxY - box.minY,
    strokes: [
      ...outlines.traced.map((ring) => ({
        kind: 'notch' as const,
        points: move(ring),
        closed: true,
        lit: false,
      })),
      ...folds.map((f) => ({ kind: 'leader' as const, points: move(f.points), closed: false, lit: false })),
    ],
  };
}
