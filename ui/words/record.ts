/** Words of the customer's page that stand round it on the screen; its own are the engine's (`RECORD_WORDS`), which print it too. */
export const recordWords = {
  print: 'Print this page',
  change: 'Change the job’s name, machine or customer',
  fields: { title: 'What is wrong', machine: 'Machine', customer: 'Customer' },
  toProve: 'Go to Prove',
  working: 'The evidence is still being weighed.',
} as const;
