import { findSupersessionFaults, wantOfLink, type Catalogue } from './catalogue.ts';
import { nameParts, readInput, type InputFault } from './input-fault.ts';
import { partSchema, type Part } from './part.ts';

/**
 * The good rows of an import, joined with the parts already there (a row with the id of one replaces it), and every fault.
 * A row that does not read, or repeats an id of the same import, is left out; of a good row, a successor that is
 * not there or that leads back is dropped. Paths start with the row's index.
 */
export function importCatalogue(rows: readonly unknown[], present: Catalogue = []): { parts: Part[]; imported: Part[]; faults: InputFault[] } {
  const faults: InputFault[] = [];
  const good = new Map<string, { part: Part; row: number }>();
  rows.forEach((row, index) => {
    const read = readInput(partSchema, row);
    if (!read.ok) {
      faults.push(...read.faults.map((fault) => ({ ...fault, path: joinPath(index, fault.path) })));
    } else if (good.has(read.value.id)) {
      faults.push({ path: `[${index}].id`, found: JSON.stringify(read.value.id), want: 'a part id that is not used twice' });
    } else {
      good.set(read.value.id, { part: read.value, row: index });
    }
  });

  const parts = [...present.filter((part) => !good.has(part.id)), ...[...good.values()].map((entry) => entry.part)];
  const dropped = new Map<string, Set<number>>();
  // A dropped link may leave another way round, so look until there is none.
  for (let links = findSupersessionFaults(parts); links.length > 0; links = findSupersessionFaults(parts.map((part) => withoutLinks(part, dropped)))) {
    for (const link of links) {
      const original = findPosition(parts.find((part) => part.id === link.partId)!, dropped.get(link.partId), link.position);
      const positions = dropped.get(link.partId) ?? new Set<number>();
      dropped.set(link.partId, new Set([...positions, original]));
      const row = good.get(link.partId)?.row;
      faults.push({
        path: row === undefined ? '' : `[${row}].supersededBy[${original}]`,
        found: JSON.stringify(link.successor),
        want: wantOfLink(link.kind),
      });
    }
  }
  const mended = parts.map((part) => withoutLinks(part, dropped));
  return {
    parts: mended,
    imported: mended.filter((part) => good.has(part.id) || dropped.has(part.id)),
    faults: nameParts(faults, rows),
  };
}

function joinPath(index: number, path: string): string {
  return path === '' || path.startsWith('[') ? `[${index}]${path}` : `[${index}].${path}`;
}

function withoutLinks(part: Part, dropped: ReadonlyMap<string, ReadonlySet<number>>): Part {
  const positions = dropped.get(part.id);
  if (!positions || !part.supersededBy) return part;
  const { supersededBy, ...rest } = part;
  const kept = supersededBy.filter((_, position) => !positions.has(position));
  return kept.length === 0 ? rest : { ...rest, supersededBy: kept };
}

/** Where the link at `position` of the list with links dropped stands in the list as it was given. */
function findPosition(part: Part, dropped: ReadonlySet<number> | undefined, position: number): number {
  const kept = (part.supersededBy ?? []).map((_, index) => index).filter((index) => !dropped?.has(index));
  return kept[position]!;
}
