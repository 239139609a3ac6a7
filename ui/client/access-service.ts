import type { CarriedWithJob, JobImport, NewPerson, PersonState, PinChange, SessionState, SignIn } from '../../catalog-schema/index.ts';
import { ask, readJson, send } from './ask-server.ts';

/** Who is signed in, and who may be. Each call rejects with a `ServiceFault`. */
export interface AccessService {
  readSession(): Promise<SessionState>;
  signIn(signIn: SignIn): Promise<SessionState>;
  signOut(): Promise<SessionState>;
  changePin(change: PinChange): Promise<void>;
  listPeople(): Promise<PersonState[]>;
  addPerson(person: NewPerson): Promise<PersonState>;
  removePerson(id: string): Promise<void>;
  resetPin(id: string, pin: string): Promise<void>;
  /** lets somebody who waits after wrong PINs try again at once */
  unlockPerson(id: string): Promise<void>;
}

export function createAccessService(): AccessService {
  const personAt = (id: string): string => `/api/people/${encodeURIComponent(id)}`;
  return {
    readSession: () => ask('GET', '/api/session'),
    signIn: (signIn) => ask('POST', '/api/session', signIn),
    signOut: () => ask('DELETE', '/api/session'),
    changePin: (change) => ask('POST', '/api/session/pin', change),
    listPeople: () => ask('GET', '/api/people'),
    addPerson: (person) => ask('POST', '/api/people', person),
    removePerson: (id) => ask('DELETE', personAt(id)),
    resetPin: (id, pin) => ask('POST', `${personAt(id)}/pin`, { pin }),
    unlockPerson: (id) => ask('DELETE', `${personAt(id)}/wait`),
  };
}

/** Jobs out of this shop and into it, as files. */
export interface JobFiles {
  /** where a job's file is fetched from: the browser writes it to the disk as it comes */
  addressOf(jobId: string): string;
  /** What came with a job from another shop. */
  readCarried(jobId: string): Promise<CarriedWithJob>;
  /** Takes a file in: all of it, or a `ServiceFault` with a line for each thing wrong. */
  take(file: Blob): Promise<JobImport>;
}

/** `JOB_FILE_TYPE` of the schema, which would bring all schemas along. */
const JOB_FILE_TYPE = 'application/vnd.lugwright.job+json';
/** 200 MB over a slow shop's network. */
const FILE_PATIENCE_MS = 600_000;

export function createJobFiles(): JobFiles {
  return {
    addressOf: (jobId) => `/api/jobs/${encodeURIComponent(jobId)}/file`,
    readCarried: (jobId) => ask('GET', `/api/jobs/${encodeURIComponent(jobId)}/carried`),
    take: (file) => readJson(send('POST', '/api/job-files', { body: new Blob([file], { type: JOB_FILE_TYPE }), patienceMs: FILE_PATIENCE_MS })),
  };
}
