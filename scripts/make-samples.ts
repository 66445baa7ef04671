/**
 * Writes the sample patterns of the Harbour Watch into public/samples: each as a clean and a loose drawing, a small
 * picture of the folded shell, and a manifest. The same bytes on every run.
 *
 * Run: npm run samples
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  bollardPattern,
  bracerParts,
  browEdges,
  drawPattern,
  drawPreview,
  gannetPattern,
  keelPattern,
  type Manner,
  middleOf,
  type PreviewView,
  type Truth,
} from '../tests/support/harbourWatch';

const folder = join(dirname(fileURLToPath(import.meta.url)), '..', 'public', 'samples');

/** A length to measure on the flat pattern: a chain of edges and folds. */
interface Chain {
  readonly id: string;
  readonly label: string;
  /** Mesh edges of the chain, in walking order. */
  readonly meshEdges: readonly number[];
}

interface Sample {
  readonly id: string;
  readonly title: string;
  readonly sentence: string;
  readonly flat: Truth;
  readonly view: PreviewView;
  readonly chain: Chain | null;
  /** Also drawn without any numbers. */
  readonly unnumbered: boolean;
}

const gannet = gannetPattern();

const samples: readonly Sample[] = [
  {
    id: 'gannet-helm',
    title: 'Gannet helm',
    sentence: 'A sea-bird helmet with beak, cheek guards and a raised crest. Mirror-symmetric.',
    flat: gannet,
    view: { turn: -0.78, rise: 0.26, hairlines: true },
    chain: { id: 'brow', label: 'Brow girth', meshEdges: browEdges(gannet.shell) },
    unnumbered: true,
  },
  {
    id: 'bollard-pauldron',
    title: 'Bollard pauldron',
    sentence: 'A guard for the left shoulder with a collar, a domed cap and a flared skirt. Not symmetric.',
    flat: bollardPattern(),
    view: { turn: 1.35, rise: 0.48, hairlines: true },
    chain: null,
    unnumbered: false,
  },
  {
    id: 'keel-bracer',
    title: 'Keel bracer',
    sentence: 'A forearm guard of curved sheets with a raised keel: arcs, free curves and only one fold.',
    flat: keelPattern(),
    view: { turn: -0.42, rise: 0.22, roll: -0.9, hairlines: false, parts: bracerParts() },
    // Wrist ends of the keel, the two outer pieces and the under piece.
    chain: { id: 'wrist', label: 'Wrist girth along the edges', meshEdges: [7, 17, 10, 5, 0] },
    unnumbered: false,
  },
];

interface Drawn {
  /** Name of the manner in the list of samples and in the file's name. */
  readonly name: string;
  readonly manner: Manner;
  readonly numbers: 'edges' | 'none';
  readonly label: string;
}

const manners: readonly Drawn[] = [
  { name: 'clean', manner: 'clean', numbers: 'edges', label: 'Clean drawing, millimetres' },
  {
    name: 'loose',
    manner: 'loose',
    numbers: 'edges',
    label: 'Loose drawing: single lines, glue tabs, no stated size (96 units an inch)',
  },
  {
    name: 'unnumbered',
    manner: 'loose',
    numbers: 'none',
    label:
      'Loose drawing without numbers or names: single lines, glue tabs, no stated size (96 units an inch)',
  },
];

const round = (v: number) => Math.round(v * 1000) / 1000 + 0;

/** The chain on one drawing: its length, and for each edge its middle and both ends, mm, y up. */
function measure(chain: Chain, truth: Truth) {
  const edges = chain.meshEdges.map((m) => {
    const edge = truth.pieces.flatMap((p) => p.outline).find((e) => e.meshEdge === m);
    if (!edge) throw new Error(`No edge ${m} on ${truth.title}`);
    return edge;
  });
  const length = edges.reduce((sum, e) => {
    let s = 0;
    for (let i = 1; i < e.points.length; i++)
      s += Math.hypot(e.points[i]!.x - e.points[i - 1]!.x, e.points[i]!.y - e.points[i - 1]!.y);
    return sum + s;
  }, 0);
  const at = (p: { x: number; y: number }) => [round(p.x), round(p.y)];
  return {
    id: chain.id,
    label: chain.label,
    length: round(length),
    middles: edges.map((e) => at(middleOf(e))),
    tape: edges.every((e) => e.points.length === 2) ? edges.map((e) => e.points.map(at)) : null,
  };
}

mkdirSync(folder, { recursive: true });
const manifest = samples.map((sample) => {
  const preview = `${sample.id}.preview.svg`;
  writeFileSync(join(folder, preview), drawPreview(sample.flat.shell, sample.view));
  const files = manners
    .filter((m) => m.numbers !== 'none' || sample.unnumbered)
    .map(({ name, manner, numbers, label }) => {
      const { svg, truth } = drawPattern(sample.flat, { manner, numbers, names: numbers !== 'none' });
      const file = `${sample.id}.${name}.svg`;
      writeFileSync(join(folder, file), svg);
      return {
        manner: name,
        label,
        file,
        physicalSize: manner !== 'loose',
        pieces: truth.pieces.length,
        seams: truth.mates.length,
        measure: sample.chain ? measure(sample.chain, truth) : null,
      };
    });
  return { id: sample.id, title: sample.title, sentence: sample.sentence, preview, files };
});
writeFileSync(join(folder, 'samples.json'), `${JSON.stringify(manifest, null, 2)}\n`);
