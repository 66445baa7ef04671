export { readTroupe, writeTroupe } from './table';
export { placesOfWearers, wearerIssues } from './wearers';
