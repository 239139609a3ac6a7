export { ServiceFault, type JobStart, type Service, type ServiceFaultKind } from './service.ts';
export { createFetchService } from './fetch-service.ts';
export type { ChangeResult, FieldChange, SendState, WorkSheet } from './work-sheet.ts';
export { JobSheet, type SheetWorld } from './job-sheet.ts';
export { CounterSheet } from './counter-sheet.ts';
export { Settings, type LengthUnit, type SettingValues, type Theme } from './settings.ts';
export { Shop } from './shop.ts';
export type { Desk } from './desk.ts';
export { makeUuid } from './new-id.ts';
