export { recutPattern } from './recut';
export { placesWith } from './reshell';
