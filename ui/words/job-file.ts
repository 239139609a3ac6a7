/** A job as one file, out of this shop and into it. */
export const jobFileWords = {
  exportTitle: 'Hand the job on',
  export: 'Save the job as one file',
  exportHint: 'Whole: every change, the photographs, what became of parts, the chosen part as it was. Another shop takes it in on its Jobs page.',
  exportWaits: (count: number): string => `${count === 1 ? '1 change of this job is' : `${count} changes of this job are`} not sent yet: the file would lack ${count === 1 ? 'it' : 'them'}.`,
  exportUnreached: 'The file is written by the shop’s server, which is not reached.',

  carriedTitle: 'Came with the job',
  carriedLead: 'From the shop it came from. Nothing is put aside or ordered here for it.',
  carriedAside: (qty: number, part: string, bin: string): string => `${qty} ${part} put aside there, ${bin}`,
  carriedOrdered: (qty: number, part: string, supplier: string, arrives: string): string => `${qty} ${part} ordered there from ${supplier}, to arrive ${arrives}`,
  carriedHeld: (part: string, when: string): string => `${part} held there, told ${when}`,
  carriedCameBack: (part: string, when: string): string => `${part} came back there, told ${when}`,
  carriedPart: (title: string): string => `The chosen part as that shop has it: ${title}`,

  importTitle: 'Take a job in from a file',
  choose: 'Choose a job file',
  drop: 'or drop it on this page',
  dropHere: 'Let go to take this job in',
  taking: (name: string): string => `Taking in ${name}`,
  new: (title: string, photographs: number): string => `“${title}” is here now${photographs === 0 ? '' : `, with ${photographs === 1 ? '1 photograph' : `${photographs} photographs`}`}.`,
  added: (title: string, edits: number): string => `“${title}” was here: ${edits === 1 ? '1 change has' : `${edits} changes have`} come in.`,
  nothingNew: (title: string): string => `“${title}” was here, and nothing in the file is new.`,
  twoValues: (count: number): string => `${count === 1 ? '1 field has' : `${count} fields have`} two values: choose in the job.`,
  openJob: 'Open the job',
  refused: (name: string): string => `${name} was not taken in, and nothing of it was kept:`,
  more: (count: number): string => `and ${count} more`,
} as const;
