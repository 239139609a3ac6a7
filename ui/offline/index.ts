export { DATABASE_NAME, openDatabase, type Database, type DatabaseNews } from './open-database.ts';
export type { KeptAct, KeptAnswer, KeptPhotograph, KeptReading, KeptRequest, OfflineSchema, RequestBody } from './kept-shapes.ts';
