/**
 * How far apart notches of mates come to lie along their seams, in both models: `npx tsx tests/bench/notchFigures.ts
 * [NAME ...]`, names from their start. Foam of 5 mm, paper and traced face outside; straight outlines and smoothed ones.
 * `app` are samples read from their files, paired and folded up.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { unwatched } from '../../src/base';
import { type FoamSurface, makePanels } from '../../src/foam';
import { defaultDecisions, type FoamResult, nothingKnown, type Seams } from '../../src/model';
import { smoothPanels } from '../../src/panels';
import { realStages } from '../../src/pipeline';
import { panelsOfTruth, spreadOf, surfaceOfTruth, wholeSeams } from '../foam/shellFigures';
import { marks } from '../foam/strips';
import { seamsOfTruth } from '../foam/truthSeams';
import { notchPairs } from '../marks/notchesApart';
import { corpus, type Truth } from '../support/harbourWatch';
import { heldShells } from '../support/heldShells';

type Preparation = 'bevel' | 'square';
interface Made {
  readonly seams: Seams;
  readonly surface: FoamSurface;
  readonly make: (preparation: Preparation) => FoamResult;
}

function ofTruth(truth: Truth): Made {
  const seams = seamsOfTruth(truth);
  const runs = wholeSeams(truth).map((ids, k) => ({ id: `r${k}`, number: k + 1, seams: ids }));
  return {
    seams: { ...seams, runs },
    surface: surfaceOfTruth(truth),
    make: (preparation) => panelsOfTruth(truth, { preparation }),
  };
}

async function asFolded(file: string): Promise<Made> {
  const svg = readFileSync(resolve(import.meta.dirname, '../../public/samples', file), 'utf8');
  const size = { kind: 'perInch', value: 96 } as const;
  const drawn = realStages.readDrawing({ name: file, svg }, { file: 0, size });
  if (!drawn.ok) throw new Error('the drawing is not readable');
  const decided = { ...defaultDecisions.reading, size };
  const pattern = realStages.readPattern(realStages.joinDrawings([drawn.value]), decided);
  const seams = await realStages.verifySeams(pattern, defaultDecisions.seams, unwatched);
  return folded(pattern, seams, await realStages.foldPattern(pattern, seams, nothingKnown, unwatched));
}

function folded(pattern: FoamSurface['pattern'], seams: Seams, shell: FoamSurface['shell']): Made {
  const surface = { pattern, shell, places: shell.vertices };
  return {
    seams,
    surface,
    make: (preparation) =>
      makePanels(
        pattern,
        seams,
        1,
        { ...defaultDecisions.foam, preparation },
        marks,
        undefined,
        { bends: shell.bends, taken: true },
        surface,
      ),
  };
}

const usual = /^(app|Gannet|Bollard|shell \d|held 910[1359])/;

async function main() {
  const asked = process.argv.slice(2);
  const wanted = (name: string) =>
    asked.length > 0 ? asked.some((a) => name.startsWith(a)) : usual.test(name);
  console.log(
    '| shell | cut | outlines | pairs | rigid: 95 % / most, mm | mitre | worse of both | nearest to a corner | out of order |',
  );
  console.log('|---|---|---|---|---|---|---|---|---|');
  const of = (values: readonly number[]) => {
    const { p95, max } = spreadOf(values);
    return `${p95.toFixed(3)} / ${max.toFixed(3)}`;
  };
  const members = [...corpus, ...heldShells];
  const list = [
    ...members.map(({ name, make }) => ({ name, make: async () => ofTruth(make()) })),
    ...['gannet-helm', 'keel-bracer'].map((sample) => ({
      name: `app: ${sample}`,
      make: () => asFolded(`${sample}.clean.svg`),
    })),
  ];
  for (const { name, make } of list.filter((one) => wanted(one.name))) {
    const { seams, surface, make: panels } = await make();
    for (const preparation of ['bevel', 'square'] as const) {
      const foam = panels(preparation);
      const drawn = { straight: foam, smoothed: smoothPanels(foam, seams).foam };
      for (const [outlines, made] of Object.entries(drawn)) {
        const pairs = notchPairs(made, seams, surface, 'outside');
        const cells = [
          name,
          preparation,
          outlines,
          pairs.length,
          of(pairs.map(({ apart }) => apart.rigid)),
          of(pairs.map(({ apart }) => apart.mitre)),
          of(pairs.map(({ apart }) => Math.max(Math.abs(apart.rigid), Math.abs(apart.mitre)))),
          Math.min(...pairs.map(({ fromCorner }) => fromCorner)).toFixed(2),
          pairs.filter(({ inOrder }) => !inOrder).length,
        ];
        console.log(`| ${cells.join(' | ')} |`);
      }
    }
  }
}

void main();
