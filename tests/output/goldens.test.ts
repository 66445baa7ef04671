/** Readable goldens of what is printed for one small fixture. */
import { describe, it } from 'vitest';
import { boxOf } from '../../src/math';
import { writePanelsSvg } from '../../src/output';
import { expectGolden, rounded } from '../support/golden';
import { lay, markFixture } from '../support/pages';
import { gores } from '../support/panels';

const marked = markFixture(gores(3, 3, 150, 300, 0.2));
const at = (p: { x: number; y: number }) => `${rounded(p.x)} ${rounded(p.y)}`;

describe('goldens', () => {
  it('of the marks', () => {
    const lines = marked.panels.flatMap(({ panel, lines, lettering, notches }) => [
      `panel ${panel.id} ${panel.name}`,
      ...lines.map((l) => `  ${l.kind} ${l.of}${l.closed ? ' closed' : ''}: ${l.points.map(at).join(', ')}`),
      ...notches.map(
        (n) => `  notch ${n.seam} on ${n.edge} after ${rounded(n.along)}: ${at(n.at)} to ${at(n.to)}`,
      ),
      ...lettering.map(
        (l) =>
          `  ${l.use} "${l.text}" for ${l.of} at ${at(l.at)} turned ${rounded(l.angle, 4)} high ${rounded(l.height)}`,
      ),
    ]);
    expectGolden('marks/gores.txt', `${lines.join('\n')}\n`);
  });

  it('of the pages', async () => {
    const plan = await lay(marked);
    const lines = [
      `paper ${rounded(plan.width)} x ${rounded(plan.height)}, layout ${rounded(plan.extent.width)} x ${rounded(plan.extent.height)}`,
      ...plan.placements.map((p) => `place ${p.panel} turned ${rounded(p.angle, 4)} moved ${at(p.move)}`),
      ...plan.pages.flatMap((page) => [
        `page ${page.name} at ${at(page.origin)} shows ${page.panels.join(' ')}`,
        ...page.registration.map((m) => `  mark ${m.id} at ${at(m.at)}`),
        ...page.strokes.map((s) => {
          const box = boxOf(s.points);
          return `  ${s.kind}${s.closed ? ' closed' : ''} ${s.points.length} points in ${rounded(box.minX)} ${rounded(box.minY)} ${rounded(box.maxX)} ${rounded(box.maxY)}`;
        }),
        ...page.lettering.map((l) => `  "${l.text}" at ${at(l.at)} high ${rounded(l.height)}`),
      ]),
    ];
    expectGolden('layout/gores.txt', `${lines.join('\n')}\n`);
  });

  it('of the panels drawing, letters left out', () => {
    const svg = writePanelsSvg(marked, { title: 'Gannet helm', tracedFace: 'outside' });
    const short = svg.replace(/(<path data-use[^>]*) d="[^"]*"/g, '$1');
    expectGolden('output/gores.svg', short);
  });
});
