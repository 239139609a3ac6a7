export { DATABASE_NAME, openDatabase, type Database, type DatabaseNews } from './open-database.ts';
export type { KeptAct, KeptPhotograph, KeptReading, KeptRequest, OfflineSchema } from './kept-shapes.ts';
