export { writeDataPackage } from './data-package/write-data-package.ts';
export { readCataloguePath, readPartsPath } from './read-catalogue-path.ts';
