export { type FoldMeta, makeFold } from './foldFile';
export { type ArchiveFile, fileStem, writeArchive } from './writeArchive';
export { type BookBlock, type BookMeta, type BookPicture, writeBook } from './writeBook';
export { type DxfLayer, type DxfMeta, dxfLayers, writePanelsDxf, writeSheetDxf } from './writeDxf';
export { writePagesPdf } from './writePagesPdf';
export { type SvgMeta, writePanelsSvg, writeSheetSvg } from './writePanelsSvg';
