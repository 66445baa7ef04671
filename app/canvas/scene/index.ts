/** What to show in a step: the one place where steps meet scenes. */
import { unreachable } from '../../../src/base';
import type { ProjectDocument } from '../../../src/model';
import { formatLength } from '../../../src/units';
import type { Results, Session, StepName } from '../../document/session';
import { shownResults } from '../../document/shown';
import { foamScene } from './foamScene';
import { offcutScene } from './offcutScene';
import { pageScene } from './pageScene';
import { patternScene } from './patternScene';
import { Relations } from './relations';
import { emptyScene, type Scene, type Space } from './scene';
import { sheetScene } from './sheetScene';

export { sheetPlaces } from './sheetScene';

export interface SceneInputs {
  readonly step: StepName;
  readonly results: Results;
  readonly document: ProjectDocument | null;
  readonly nesting?: Session['nesting'];
  readonly pickingFaces?: boolean;
  readonly offcut?: Session['offcut'];
}

export const spaceOf = (step: StepName): Space =>
  step === 'foam' || step === 'panels' || step === 'sheets' || step === 'build'
    ? 'panels'
    : step === 'pages'
      ? 'layout'
      : 'drawing';

/** The scene of a step, and who belongs to whom in it. */
export function sceneOf(inputs: SceneInputs): { readonly scene: Scene; readonly relations: Relations } {
  const { step, document, pickingFaces = false } = inputs;
  const results = shownResults(step, inputs.results);
  const relations = new Relations(results.pattern, results.seams);
  if (!document) return { scene: emptyScene(spaceOf(step)), relations };
  switch (step) {
    case 'pattern':
    case 'seams':
    case 'size':
    case 'panels':
      return {
        relations,
        scene: patternScene({
          drawing: results.drawing,
          pattern: results.pattern,
          relations,
          step,
          faces: pickingFaces && step === 'panels',
        }),
      };
    case 'sheets': {
      if (inputs.offcut) return { relations, scene: offcutScene(document.decisions.build.sheet) };
      const plan = inputs.nesting?.plan ?? results.sheets;
      if (plan && plan.sheets.length > 0)
        return { relations, scene: sheetScene(plan, results.marked, lengthWriter(document)) };
      return { relations, scene: panelScene(results, document, relations) };
    }
    case 'foam':
    case 'build':
      return {
        relations,
        scene: panelScene(results, document, relations),
      };
    case 'pages':
      return { relations, scene: pageScene(results.pages, results.marked) };
    default:
      return unreachable(step);
  }
}

const panelScene = (results: Results, { decisions }: ProjectDocument, relations: Relations): Scene =>
  foamScene({
    pattern: results.pattern,
    foam: results.foam,
    scale: results.fit?.scale ?? 1,
    traced: decisions.foam.traced,
    relations,
  });

/** Writes lengths in the document's unit. */
export const lengthWriter =
  (document: ProjectDocument | null) =>
  (mm: number): string =>
    formatLength(mm, document?.lengthUnit ?? 'mm');
