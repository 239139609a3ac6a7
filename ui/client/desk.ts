import type { CodeClient, EngineClient, PictureClient } from '../worker/index.ts';
import type { AccessService, JobFiles } from './access-service.ts';
import type { Device } from './device.ts';
import type { PhotographKeeper } from './photograph-keeper.ts';
import type { Service } from './service.ts';
import type { Session } from './session.ts';
import type { Settings } from './settings.ts';
import type { Shop } from './shop.ts';

/** What every screen is given to work with. */
export interface Desk {
  readonly service: Service;
  readonly engine: EngineClient;
  readonly shop: Shop;
  readonly device: Device;
  readonly photographs: PhotographKeeper;
  readonly pictures: PictureClient;
  readonly codes: CodeClient;
  readonly settings: Settings;
  readonly session: Session;
  readonly access: AccessService;
  readonly jobFiles: JobFiles;
  /** goes to an address of this page */
  readonly go: (path: string) => void;
  readonly now: () => Date;
  readonly newId: () => string;
}
