export { readPattern } from './readPattern';
