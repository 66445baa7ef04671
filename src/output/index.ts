export { writePagesPdf } from './writePagesPdf';
export { type SvgMeta, writePanelsSvg } from './writePanelsSvg';
