export { type FoldMeta, makeFold } from './foldFile';
export { writePagesPdf } from './writePagesPdf';
export { type SvgMeta, writePanelsSvg } from './writePanelsSvg';
