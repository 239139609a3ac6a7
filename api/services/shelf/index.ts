export { openShelf } from './open-shelf.ts';
export { recordMoves } from './record-moves.ts';
export { reserveIn, releaseIn, wasReserved } from './reservations.ts';
export { readShelf } from './shelf-reader.ts';
export { createShelfService, type MovesWanted, type ShelfService } from './shelf-service.ts';
