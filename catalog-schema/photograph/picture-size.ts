/** What a reader of one kind found: the size as stored, and whether it is shown lying on its side; or why the bytes are not whole. */
export type PictureSize = { readonly widthPx: number; readonly heightPx: number; readonly turned: boolean } | { readonly broken: string };
