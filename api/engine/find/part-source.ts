import type { Catalogue, Part } from '../../../catalog-schema/index.ts';
import type { PartNames, Snapshot } from '../snapshot/index.ts';

/** A catalogue as it is searched: parts by their rank, which is their place in order of id. */
export interface PartSource {
  readonly count: number;
  namesAt(rank: number): PartNames;
  idAt(rank: number): string;
}

export function sourceOfParts(catalogue: Catalogue): PartSource {
  // Without a comparing function text is sorted by code unit; most catalogues come sorted, or nearly so.
  const rowOf = new Map(catalogue.map(({ id }, row) => [id, row]));
  const ids = [...rowOf.keys()].sort();
  const rows = Uint32Array.from(ids, (id) => rowOf.get(id)!);
  const partAt = (rank: number): Part => catalogue[rows[rank]!]!;
  return {
    count: rows.length,
    namesAt: (rank) => {
      const { id, title, partClass, numbers = [], replaces = [], supersededBy = [] } = partAt(rank);
      return { id, title, partClass, numbers, replaces, supersededBy };
    },
    idAt: (rank) => partAt(rank).id,
  };
}

export function sourceOfSnapshot(snapshot: Snapshot): PartSource {
  const { rowsById } = snapshot;
  return { count: snapshot.count, namesAt: (rank) => snapshot.namesAt(rowsById[rank]!), idAt: (rank) => snapshot.idAt(rowsById[rank]!) };
}

/** The rank of a part; undefined where there is none of that id. */
export function rankOf({ count, idAt }: PartSource, id: string): number | undefined {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (idAt(middle) < id) low = middle + 1;
    else high = middle;
  }
  return low < count && idAt(low) === id ? low : undefined;
}
