/** Words beside the sentence that says whether the evidence pays for a part. */
export const evidenceWords = { settle: 'This would settle it:', toProve: 'Prove it' } as const;
