export { archiveWith, isForHead, makeAllFiles, makeArchive, type NamedFile } from './archive';
export { layBand, makeBandPdf } from './band';
export { makeBendTestPdf } from './bendTest';
export { makeBuildPdf } from './buildSheet';
export { type Cut, cutOf, foamFor } from './cut';
export { createDryFitter, type DryFitter } from './dryFit';
export { stopped } from './faults';
export {
  makeCheckPdf,
  makeFoldFile,
  makePagesPdf,
  makePanelsDxf,
  makePanelsSvg,
} from './files';
export { createFoldMemos, foldUp, pairUp } from './folding';
export { formatPercent, mapContextOf } from './mapContext';
export { createPipeline, distinctIssues, type PartListener, type Pipeline, partOf } from './pipeline';
export { makeSheetFile, makeSheetFiles, makeSheetsArchive, makeSheetsPdf } from './sheetFiles';
export { realStages, type Stages } from './stages';
export { makeTroupe, makeTroupeArchive, type RunDocument, type TroupeFiles } from './troupe';
