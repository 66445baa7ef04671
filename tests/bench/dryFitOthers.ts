/**
 * The dry fit beyond the true shells of the generated family: `npx tsx tests/bench/dryFitOthers.ts [square] [GROUP ...]`,
 * groups `anew` (fewest panels from the faces alone, as the program proposes them), `joined` (sharp folds cut, then panels
 * joined to as few as foam follows), `folded` (shells folded up from the flat), `others` (domes, bodies, stones, tubes,
 * strips of quads), `bracer`; of these the sharp folds are cut. Foam of 5 mm, bevelled or `square`, paper outside. Every
 * figure is the worse of both models.
 */
import type { DryFit, GapFigures } from '../../src/model';
import { dryFitOf, foldedOf, type Held, heldOf, proposedOf } from '../dryfit/foldedFit';
import { corpus, keelPattern, shellPattern } from '../support/harbourWatch';
import { heldShells } from '../support/heldShells';
import { otherKinds, otherShell } from '../support/otherShells';

const square = process.argv.includes('square');
const aims = square
  ? { mean: 0.1, p95: 0.5, max: Number.POSITIVE_INFINITY, share: 0.0003 }
  : { mean: 0.1, p95: 0.4, max: 1.5, share: 0.0015 };

const figures = (f: GapFigures | null) =>
  f ? [f.mean, f.p95, f.max].map((v) => v.toFixed(2)).join(' / ') : '–';

function row(name: string, fit: DryFit, seconds: number): string {
  const { designed } = fit;
  const gap = square ? designed.square : designed.bevelled;
  const missed = [
    ...(['mean', 'p95', 'max'] as const).filter((k) => gap && gap[k] > aims[k]),
    ...(designed.overlapShare > aims.share ? ['overlap'] : []),
  ];
  const paper = fit.uncompensated;
  const cells = [
    name,
    `${fit.panels}${fit.leftOut.length > 0 ? ` (${fit.leftOut.length} without a place)` : ''}`,
    figures(gap),
    !square && designed.square ? figures(designed.square) : '–',
    `${(100 * designed.overlapShare).toFixed(3)} %`,
    missed.join(', ') || 'none',
    paper ? `${figures(paper.gap)}; ${(100 * paper.overlapShare).toFixed(3)} %` : '–',
    String(fit.clashes.length),
    seconds.toFixed(1),
  ];
  return `| ${cells.join(' | ')} |`;
}

const members = corpus.filter(({ name }) => /^shell|^Bollard|^Gannet/.test(name));

/** The keel's ridge, whose bend lengths leave open. */
const ridge = 'P1.f1';

const groups: Readonly<
  Record<string, () => readonly { readonly name: string; readonly make: () => Promise<Held> }[]>
> = {
  // Members that fold up in a few seconds.
  folded: () =>
    members
      .filter(({ name }) => !/^shell [67]|^Gannet/.test(name))
      .map(({ name, make }) => ({
        name: `${name}, folded up`,
        make: async () => proposedOf(await foldedOf(make()), 'splits'),
      })),
  joined: () =>
    members.map(({ name, make }) => ({
      name: `${name}, joined`,
      make: () => proposedOf(heldOf(make()), 'splits', 'joins'),
    })),
  anew: () =>
    [...members, ...heldShells].map(({ name, make }) => ({
      name: `${name}, cut anew`,
      make: () => proposedOf(heldOf(make()), 'anew'),
    })),
  others: () =>
    otherKinds.map((kind) => ({
      name: `${kind} of 110 faces`,
      make: () => proposedOf(heldOf(shellPattern(otherShell(kind, 3, 110), { seed: 3 })), 'splits'),
    })),
  bracer: () => [
    { name: 'Keel bracer, folded up', make: () => foldedOf(keelPattern()) },
    { name: 'Keel bracer, its ridge typed', make: () => foldedOf(keelPattern(), [ridge]) },
    {
      name: 'Keel bracer, its ridge typed and split',
      make: async () => proposedOf(await foldedOf(keelPattern(), [ridge]), 'splits'),
    },
  ],
};

async function main() {
  const asked = process.argv.slice(2).filter((word) => word !== 'square');
  const chosen = asked.length > 0 ? asked : Object.keys(groups);
  console.log(
    '| shell | panels | gap: mean / p95 / max, mm | gap, square where bevels collide | overlap | aims missed | bare paper | clashes | CPU, s |',
  );
  console.log('|---|---|---|---|---|---|---|---|---|');
  for (const group of chosen)
    for (const { name, make } of groups[group]!()) {
      const before = process.cpuUsage();
      const fit = await dryFitOf(await make(), { preparation: square ? 'square' : 'bevel' });
      const { user, system } = process.cpuUsage(before);
      console.log(row(name, fit, (user + system) / 1e6));
    }
}

void main();
