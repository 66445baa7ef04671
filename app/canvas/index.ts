export { Bench, type BenchProps } from './Bench';
