export { openShelf } from './open-shelf.ts';
export { recordMoves } from './record-moves.ts';
export { reserveIn, wasReserved } from './reservations.ts';
export { createShelfService, type ShelfService } from './shelf-service.ts';
