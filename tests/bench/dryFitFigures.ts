/**
 * The dry fit over the generated family, from true shells: `npx tsx tests/bench/dryFitFigures.ts [thickness] [held]`,
 * `held` for the shells that were held back. First the panels that the program proposes to cut, sharp folds made seams;
 * then the paper's pieces as they are drawn. Every figure is the worse of both models.
 */
import type { DryFitWay, GapFigures } from '../../src/model';
import { dryFitOf, type Held, heldOf, proposedOf } from '../dryfit/foldedFit';
import { corpus } from '../support/harbourWatch';
import { heldShells } from '../support/heldShells';

const thickness = Number(process.argv[2] ?? 5);
const family = process.argv[3] === 'held' ? heldShells : corpus;
const aims = {
  bevel: { mean: 0.1, p95: 0.4, max: 1.5, share: 0.0015 },
  square: { mean: 0.1, p95: 0.5, max: Number.POSITIVE_INFINITY, share: 0.0003 },
} as const;
const scale = thickness / 5;

const panels = {
  'sharp folds cut': (held: Held) => proposedOf(held, 'splits'),
  'as drawn': async (held: Held) => held,
} as const;

const figures = (f: GapFigures | null) =>
  f ? [f.mean, f.p95, f.max].map((v) => v.toFixed(2)).join(' / ') : '–';
const share = (way: DryFitWay) => `${(100 * way.overlapShare).toFixed(3)} %`;

async function table(preparation: 'bevel' | 'square', which: keyof typeof panels) {
  const aim = aims[preparation];
  console.log(
    `\n${preparation}, panels ${which}, foam of ${thickness} mm, paper outside; gap mean / p95 / max in mm. Aims: ${[aim.mean, aim.p95, aim.max].map((v) => (Number.isFinite(v) ? (v * scale).toFixed(2) : '–')).join(' / ')}, overlap ${100 * aim.share} %.\n`,
  );
  console.log(
    '| shell | panels | gap | overlap | misses | K 0.15 lower | K 0.15 higher | paper uncompensated | clashes | worst seam | CPU, s |',
  );
  console.log('|---|---|---|---|---|---|---|---|---|---|---|');
  for (const { name, make } of family) {
    if (name === 'Keel bracer') continue;
    const held = await panels[which](heldOf(make()));
    const before = process.cpuUsage();
    const fit = await dryFitOf(held, { thickness, preparation });
    const { user, system } = process.cpuUsage(before);
    const gap = fit.designed[preparation === 'bevel' ? 'bevelled' : 'square'];
    const misses = [
      ...(['mean', 'p95', 'max'] as const).filter((k) => gap && gap[k] > aim[k] * scale),
      ...(fit.designed.overlapShare > aim.share ? ['overlap'] : []),
    ];
    const off = fit.otherNeutral.map(({ way }) => `${figures(way.gap)}; ${share(way)}`);
    const plain = `${figures(fit.uncompensated!.gap)}; ${share(fit.uncompensated!)}`;
    const worst = fit.seams[0];
    console.log(
      `| ${name} | ${fit.panels} | ${figures(gap)} | ${share(fit.designed)} | ${misses.join(', ') || 'none'} | ${off.join(' | ')} | ${plain} | ${fit.clashes.length} | ${worst ? `${worst.seam} ${worst.worst.toFixed(2)}` : '–'} | ${((user + system) / 1e6).toFixed(1)} |`,
    );
  }
}

async function main() {
  for (const preparation of ['bevel', 'square'] as const)
    for (const which of Object.keys(panels) as (keyof typeof panels)[]) await table(preparation, which);
}

void main();
