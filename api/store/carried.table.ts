/** What came with a job from another server and is kept to be handed on: JSON of `carriedWithJob`. */
export interface CarriedTable {
  jobId: string;
  json: string;
}
