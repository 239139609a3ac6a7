export { readCataloguePath, readPartsPath } from './read-catalogue-path.ts';
