export { degrees, formatAngle, parseAngle, radians } from './angle';
export { type CssUnit, cssUnits } from './css';
export * from './flavour';
export {
  formatEuSize,
  formatHatSize,
  formatUsSize,
  type HatSystem,
  headOfUsSize,
  parseHatSize,
  parseHead,
  ukHatNote,
  usSizeOfHead,
} from './hat';
export {
  formatFraction,
  formatLength,
  type LengthFormat,
  type LengthUnit,
  mmPerUnit,
  parseLength,
} from './length';
export { type ParsedQuantity, parseNumber, tidyQuantityText } from './number';
export { paperSizes, type StandardPaper } from './paper';
