export { Choice, type Option, SelectField, Toggle } from './Choices';
export { DraftField } from './DraftField';
export { angleText, lengthStep, lengthText, nextStep, type ShownUnit } from './entry';
export { AngleField, LengthField, NumberField, SlidingLengthField } from './NumberFields';
export { TextField } from './TextField';
