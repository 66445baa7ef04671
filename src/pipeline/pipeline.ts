/**
 * The stages in order. Each stage is a pure function of immutable inputs, so its last result is kept with the very
 * inputs it was made from and made again only when one of them is another object:
 *
 * | stage   | inputs                                                                                             |
 * |---------|----------------------------------------------------------------------------------------------------|
 * | drawing | each source; `reading.size` (file by file, then all joined)                                        |
 * | pattern | drawing; `reading`; its mirror image where `seams.half` says that it is one half                  |
 * | seams   | pattern; `seams`                                                                                   |
 * | shell   | pattern; seams; `shell` but for trust and turns; the typed bends in `foam`; then turned by itself  |
 * | fit     | pattern; the shell where it is sound or trusted; `fit`; `foam`; the edits where panels differ in foam |
 * | recut   | pattern; seams; shell; the edits in `panels`. Without edits it is those three                       |
 * | pulled  | recut; fit; `foam`: the shell with its darts glued shut, to be shown                               |
 * | foam    | recut (or what fit reshaped); the scale; bends and surface of its shell; `foam`; names, quantities |
 * |         | in `marks`; each piece's shape for itself: the piece; its plan                                     |
 * | marked  | foam; seams; `marks`; the font                                                                     |
 * | sheets  | foam; `sheets`; the face drawn and kerf in `foam`; the usual sheet in `build`                      |
 * | pages   | marked, or one half of it (that from marked and shell); `pages`; the font; title and figures of the |
 * |         | map page and the shell's picture on it (that from pattern, seams and shell)                        |
 *
 * Drawing, pattern, seams, shell and marked panels are laid over the last ones (`shareEqual`), so that an answer that
 * changes nothing, or one piece, does not make everything after it new. A result never depends on what was computed before: a run after many
 * changes equals a run from scratch. Between stages the host may breathe and cancel.
 */
import { Cancelled, type Issue, type Outcome, type StageName, shareEqual, type Work } from '../base';
import { rememberShapes } from '../foam';
import type { MapContext } from '../layout';
import type { LetteringFont } from '../marks';
import {
  type BuildPlan,
  type Drawing,
  type Fit,
  type FitDecisions,
  type FoamDecisions,
  type FoamResult,
  isCuttable,
  type MarkedPanels,
  noResults,
  type PagePlan,
  type Pattern,
  type PatternSource,
  type ProjectDocument,
  type Recut,
  type Results,
  type Seams,
  type SheetPlan,
  type Shell,
  type ShellPicture,
} from '../model';
import { type AlikePanels, drawnOnce, makeAlike, smoothPanels } from '../panels';
import { pictureOf, pictureView, shellSides } from '../shell';
import { type Cut, cutOf, foamFor, panelOfFace, withOrigins } from './cut';
import { withExtras } from './extras';
import { stopped } from './faults';
import { createFoldMemos, type FoldMemos, foldUp, type PairedUp, pairUp } from './folding';
import { pairWhole, wholePattern } from './halves';
import { mapContextOf } from './mapContext';
import { createMemo, type Memo } from './memo';
import { type PairedPanels, pairPanels } from './pairPanels';
import { withPulledShell } from './pulledIn';
import { realStages, type Stages } from './stages';

/** Told of each stage's result as soon as it is there, new or kept. */
export type PartListener = (part: Partial<Results>) => void;

export interface Pipeline {
  /**
   * Runs what has to be run for this document.
   * @returns everything that could be computed. A stage that stops on a fault of the program leaves its result and
   * all later ones null, with an issue.
   * @throws Cancelled when `work` says so; nothing half-done is kept.
   */
  run(document: ProjectDocument, work: Work, listener?: PartListener): Promise<Results>;
}

/** Where each stage starts in the progress of the whole, by the usual share of time. */
const starts = {
  drawing: 0,
  pattern: 0.04,
  seams: 0.1,
  shell: 0.45,
  fit: 0.8,
  panels: 0.83,
  foam: 0.85,
  marked: 0.88,
  pages: 0.92,
};

interface Memos {
  readonly files: Map<number, Memo<Outcome<Drawing>>>;
  readonly drawing: Memo<Drawing>;
  readonly pattern: Memo<Pattern>;
  readonly whole: Memo<Pattern>;
  readonly seams: Memo<PairedUp>;
  readonly fold: FoldMemos;
  readonly fit: Memo<Fit>;
  readonly recut: Memo<Recut>;
  readonly pulled: Memo<Recut>;
  readonly cut: Memo<Cut>;
  readonly material: Memo<FoamDecisions>;
  readonly foam: Memo<FoamResult>;
  readonly smoothed: Memo<FoamResult>;
  readonly alike: Memo<AlikePanels>;
  readonly extended: Memo<FoamResult>;
  readonly twinned: Memo<PairedPanels>;
  readonly marked: Memo<MarkedPanels>;
  readonly once: Memo<MarkedPanels>;
  readonly half: Memo<ReturnType<Stages['keepHalf']>>;
  readonly picture: Memo<ShellPicture>;
  readonly sheets: Memo<SheetPlan | null>;
  readonly pages: Memo<PagePlan>;
  readonly build: Memo<BuildPlan>;
}

/** `lettering` is asked once, when the first panels are lettered. */
export function createPipeline(
  lettering: () => Promise<LetteringFont>,
  stages: Stages = realStages,
): Pipeline {
  const memos: Memos = {
    files: new Map(),
    drawing: createMemo(),
    pattern: createMemo(),
    whole: createMemo(),
    seams: createMemo(),
    fold: createFoldMemos(),
    fit: createMemo(),
    recut: createMemo(),
    pulled: createMemo(),
    cut: createMemo(),
    material: createMemo(),
    foam: createMemo(),
    smoothed: createMemo(),
    alike: createMemo(),
    extended: createMemo(),
    twinned: createMemo(),
    marked: createMemo(),
    once: createMemo(),
    half: createMemo(),
    picture: createMemo(),
    sheets: createMemo(),
    pages: createMemo(),
    build: createMemo(),
  };
  let font: Promise<LetteringFont> | null = null;
  let lastDocument: ProjectDocument | null = null;
  let lastDrawing: Drawing | null = null;
  let lastPattern: Pattern | null = null;
  let lastSeams: Seams | null = null;
  let lastRecut: Recut | null = null;
  let lastCut: Cut | null = null;
  let lastShell: Shell | null = null;
  let lastMarked: MarkedPanels | null = null;
  const shapes = rememberShapes();
  let lastContext: MapContext | null = null;
  let lastIssues: readonly Issue[] = [];

  const loadFont = () => {
    font ??= lettering().catch((error: unknown) => {
      font = null;
      throw error;
    });
    return font;
  };

  /** One reading per file; null when none can be read. */
  const draw = (document: ProjectDocument): { drawing: Drawing | null; issues: readonly Issue[] } => {
    const { size } = document.decisions.reading;
    const outcomes = document.sources.map((source: PatternSource, file) => {
      let memo = memos.files.get(file);
      if (!memo) {
        memo = createMemo();
        memos.files.set(file, memo);
      }
      return memo.recall([source, size], () => stages.readDrawing(source, { file, size }));
    });
    for (const file of memos.files.keys()) if (file >= outcomes.length) memos.files.delete(file);
    const drawings = outcomes.flatMap((o) => (o.ok ? [o.value] : []));
    const drawing =
      drawings.length > 0
        ? memos.drawing.recall(drawings, () => shareEqual(lastDrawing, stages.joinDrawings(drawings)))
        : null;
    if (drawing) lastDrawing = drawing;
    return { drawing, issues: [...outcomes.flatMap((o) => o.issues), ...(drawing?.issues ?? [])] };
  };

  return {
    async run(given, work, listener = () => {}) {
      const document: ProjectDocument = shareEqual(lastDocument, given);
      lastDocument = document;
      const { reading, seams: pairing, fit: ask, foam: material, marks, pages: paper } = document.decisions;
      let results: Results = noResults;
      const issues: Issue[] = [];
      const take = (part: Partial<Results>, found: readonly Issue[]) => {
        results = { ...results, ...part };
        issues.push(...found);
        listener(part);
      };
      let stage: StageName = 'drawing';
      const begin = (name: StageName, at: number, what: string) => {
        stage = name;
        return work.step(at, 1, what);
      };
      try {
        await begin('drawing', starts.drawing, 'Reading the drawing');
        const drawn = draw(document);
        take({ drawing: drawn.drawing }, drawn.issues);
        const { drawing } = drawn;
        if (drawing) {
          await begin('reading', starts.pattern, 'Finding pieces and folds');
          const drawnPattern = memos.pattern.recall([drawing, reading], () =>
            shareEqual(lastPattern, stages.readPattern(drawing, reading)),
          );
          lastPattern = drawnPattern;
          const pattern = memos.whole.recall(
            [drawnPattern, pairing.half !== null && pairing.half !== undefined],
            () => wholePattern(drawnPattern, pairing),
          );
          take({ pattern }, pattern.issues);
          await begin('seams', starts.seams, 'Pairing edges');
          const paired = await memos.seams.recallLater([drawnPattern, pattern, pairing], () =>
            pairWhole(pattern, pairing, (own) =>
              pairUp(stages, drawnPattern, own, partOf(work, starts.seams, starts.shell), memos.fold),
            ),
          );
          const seams = shareEqual(lastSeams, paired.seams);
          lastSeams = seams;
          take({ seams }, [...paired.trouble, ...seams.issues]);
          await begin('shell', starts.shell, 'Folding up');
          const folded = await foldUp(
            stages,
            memos.fold,
            pattern,
            seams,
            document.decisions,
            partOf(work, starts.shell, starts.fit),
          );
          const shell = shareEqual(lastShell, folded.shell);
          lastShell = shell;
          take({ shell }, folded.issues);
          await begin('fit', starts.fit, 'Sizing');
          const { trustDoubtful } = document.decisions.shell;
          const sound = shell && (shell.quality === 'good' || trustDoubtful) ? shell : null;
          const { edits } = document.decisions.panels;
          const recutNow = () =>
            memos.recut.recall([pattern, seams, shell, edits], () =>
              shareEqual(lastRecut, stages.recutPattern(pattern, seams, shell, { edits })),
            );
          // Which panel a face is part of matters to the girth only where panels have a thickness of their own.
          const single = Object.keys(material.thicknessOf).length > 0;
          const parts = single && edits.length > 0 ? recutNow().panels : null;
          const fit = memos.fit.recall([pattern, sound, ask, material, parts], () =>
            stages.fitPattern(pattern, ask, material, sound, parts ? panelOfFace(parts) : undefined),
          );
          take({ fit }, [...unmeasured(shell, sound, ask), ...fit.issues]);
          await begin('panels', starts.panels, 'Cutting and joining panels');
          const recut = recutNow();
          lastRecut = recut;
          const shut = memos.pulled.recall([recut, fit, material], () =>
            withPulledShell(recut, fit, material),
          );
          take({ recut: shut }, shut.issues);
          await begin('foam', starts.foam, 'Allowing for the foam');
          const { pieceNames, quantities } = marks;
          const cut = memos.cut.recall([recut, fit, trustDoubtful], () =>
            shareEqual(lastCut, cutOf(recut, fit, { trustDoubtful })),
          );
          lastCut = cut;
          const stuff = memos.material.recall([material, recut.pattern, recut.seams, recut.panels], () =>
            foamFor(material, recut),
          );
          const straight = memos.foam.recall(
            [
              recut.seams,
              recut.panels,
              cut.pattern,
              cut.scale,
              cut.bends,
              cut.surface,
              stuff,
              pieceNames,
              quantities,
            ],
            () =>
              withOrigins(
                stages.makePanels(
                  cut.pattern,
                  recut.seams,
                  cut.scale,
                  stuff,
                  marks,
                  shapes,
                  cut.bends,
                  cut.surface,
                ),
                recut,
              ),
          );
          const { smooth } = document.decisions.panels;
          const shells = smooth
            ? memos.smoothed.recall([straight, recut.seams], () => smoothPanels(straight, recut.seams).foam)
            : straight;
          const { extras } = document.decisions;
          const alike = memos.alike.recall([shells, recut.seams, edits], () =>
            makeAlike(shells, recut.seams, edits),
          );
          const foam = memos.extended.recall([alike.foam, pattern, recut, cut, fit, extras, material], () =>
            withExtras(alike.foam, { pattern, recut, cut, fit }, { extras, foam: material }),
          );
          take({ foam }, foam.issues);
          await begin('marks', starts.marked, 'Marking panels');
          const letters = await loadFont();
          const { pairWithin } = document.decisions.panels;
          const twinned = memos.twinned.recall([foam, recut.seams, pairWithin], () =>
            pairPanels(foam, recut.seams, pairWithin),
          );
          const whole = memos.marked.recall([twinned.foam, recut.seams, marks, letters], () =>
            shareEqual(lastMarked, stages.markPanels(twinned.foam, recut.seams, marks, letters)),
          );
          lastMarked = whole;
          const marked = memos.once.recall([whole, twinned.pairs], () => drawnOnce(whole, twinned.pairs));
          take({ marked }, [...twinned.issues, ...marked.issues]);
          await begin('sheets', starts.pages, 'Checking the sheets');
          const { sheets: nesting, build: bought } = document.decisions;
          const { traced, kerf } = material;
          const sheets = memos.sheets.recall(
            [twinned.listed, nesting, traced, kerf, bought.sheet.width, bought.sheet.height],
            () => stages.planSheets(twinned.listed.panels, nesting, { traced, kerf, usual: bought.sheet }),
          );
          take({ sheets }, sheets?.issues ?? []);
          await begin('layout', starts.pages, 'Laying out pages');
          const half = paper.half
            ? memos.half.recall([marked, recut.shell], () => stages.keepHalf(marked, recut.shell))
            : { marked, issues: [] };
          const { shell: built } = recut;
          const picture = built
            ? memos.picture.recall([built, recut.pattern, recut.seams], () =>
                pictureOf(built, shellSides(built, recut.pattern, recut.seams), pictureView),
              )
            : null;
          const context = shareEqual<MapContext>(
            lastContext,
            mapContextOf(document, fit, foam, half.marked.panels.length, picture),
          );
          lastContext = context;
          const pages = await memos.pages.recallLater([half.marked, paper, letters, context], () =>
            stages.layPages(half.marked, paper, letters, context, partOf(work, starts.pages, 1)),
          );
          take({ pages }, [...half.issues, ...pages.issues]);
          await begin('build', 1, 'Planning the build');
          const {
            build: decisions,
            sheets: { stock },
          } = document.decisions;
          const sheetsOfPaper = pages.pages.length;
          const build = memos.build.recall(
            [
              foam,
              twinned.listed,
              whole,
              recut.seams,
              recut.shell,
              sheets,
              sheetsOfPaper,
              ask.padding,
              decisions,
              stock,
            ],
            () =>
              stages.planBuild({
                foam,
                listed: twinned.listed,
                marked: whole,
                seams: recut.seams,
                shell: recut.shell,
                sheets: sheets && isCuttable(sheets) ? sheets : null,
                stock,
                pages: sheetsOfPaper,
                padding: ask.padding,
                decisions,
              }),
          );
          take({ build }, build.issues);
        }
      } catch (error) {
        if (error instanceof Cancelled) throw error;
        issues.push(stopped(stage, error));
        // Later parts of an earlier run must not stay on screen as if they belonged to this document.
        const missing = (Object.keys(noResults) as (keyof Results)[]).filter(
          (k) => k !== 'issues' && results[k] === null,
        );
        listener(Object.fromEntries(missing.map((k) => [k, null])));
      }
      if (!results.drawing) {
        listener({
          pattern: null,
          seams: null,
          shell: null,
          fit: null,
          recut: null,
          foam: null,
          marked: null,
          sheets: null,
          pages: null,
          build: null,
        });
      }
      lastIssues = shareEqual(lastIssues, distinctIssues(issues));
      results = { ...results, issues: lastIssues };
      listener({ issues: lastIssues });
      return results;
    },
  };
}

/** A shell that is not sound is not measured for a head; said where its girth is wanted. */
function unmeasured(shell: Shell | null, sound: Shell | null, ask: FitDecisions): readonly Issue[] {
  const wanted = (ask.how === 'head' || ask.how === 'measures') && ask.girth.kind === 'none';
  if (!shell || sound || !wanted) return [];
  return [
    {
      code: 'shell-not-measured',
      severity: 'warning',
      stage: 'fit',
      message: 'The shell folds up doubtfully, so its girth is not measured.',
      remedy:
        'Put right what the findings of the fold-up name, say in the Seams step that the shell may be taken as it is, or measure the girth on the drawing.',
      place: {},
    },
  ];
}

/**
 * The same work seen from a part of it: its 0..1 is `from`..`to` of the whole. Work that begins again (a second try
 * with other settings) does not take the progress back.
 */
export function partOf(work: Work, from: number, to: number): Work {
  let reached = from;
  return {
    step: (done, total, what) => {
      if (total > 0) reached = Math.max(reached, from + (to - from) * Math.min(1, done / total));
      return work.step(reached, 1, what);
    },
  };
}

/** A finding that two stages hand on is listed once, where it came first. */
export function distinctIssues(issues: readonly Issue[]): readonly Issue[] {
  const seen = new Set<string>();
  return issues.filter((i) => {
    const key = JSON.stringify([i.code, i.stage, i.message, i.place]);
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
