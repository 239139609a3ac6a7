/** Most entries or characters an input may have; each is checked by the schema that names it. */
export const LIMITS = {
  terminals: 16,
  elements: 32,
  holes: 12,
  wires: 32,
  ohms: 200,
  seen: 200,
  needs: 500,
  offers: 20_000,
  stringCharacters: 2_000,
  jsonRequestBytes: 5_000_000,
  photographBytes: 20_000_000,
  jobFileBytes: 200_000_000,
  catalogueFileBytes: 256_000_000,
} as const;
