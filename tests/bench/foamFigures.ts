/** Figures of panels from true shells over the generated family: `npx tsx tests/bench/foamFigures.ts [thickness] [held]`. */
import { type ShellFigures, type Spread, shellFigures } from '../foam/shellFigures';
import { corpus } from '../support/harbourWatch';
import { heldShells } from '../support/heldShells';

const thickness = Number(process.argv[2] ?? 5);
const of = ({ median, p95, max }: Spread, scale = 1) =>
  [median, p95, max].map((v) => (v * scale).toFixed(3)).join(' / ');
const line = (name: string, f: ShellFigures, ms: number) =>
  `| ${name} | ${f.panels} | ${f.neutral.max.toExponential(0)} | ${of(f.flat)} | ${of(f.bent)} | ${of(f.stretches)} | ${of(f.thickness, 100)} | ${f.squared} | ${f.overlapping} | ${f.colliding} | ${ms.toFixed(0)} |`;

console.log(`Foam of ${thickness} mm, bevelled, paper outside, traced outside; median / p95 / max, mm.\n`);
console.log(
  '| shell | panels | neutral, max | traced flat, whole seams | after bending | single stretches | thickness error, % | seams squared | overlap flat | collide | CPU, ms |',
);
console.log('|---|---|---|---|---|---|---|---|---|---|---|');
for (const { name, make } of process.argv[3] === 'held' ? heldShells : corpus) {
  if (name === 'Keel bracer') continue;
  const truth = make();
  const before = process.cpuUsage();
  const figures = shellFigures(truth, { thickness });
  const { user, system } = process.cpuUsage(before);
  console.log(line(name, figures, (user + system) / 1000));
}
