/** A table that is open: its bytes as they came, or as they were mended. */
export type OpenFile = Readonly<{
  name: string;
  bytes: Uint8Array;
  /** Of a workbook: the sheet that was chosen; its first one where none was. */
  sheet?: string;
  /** Whether cells were changed since it came. */
  mended?: true;
  /** Files that are one with it. */
  others?: readonly OpenFile[];
}>;

/** The files that are open together, the first one first, each without the others. */
export const partsOf = ({ others = [], ...first }: OpenFile): readonly OpenFile[] => [
  first,
  ...others,
];

/** Files opened as one with the first of them; undefined where there is none. */
export const asOne = ([first, ...others]: readonly OpenFile[]): OpenFile | undefined =>
  first === undefined || others.length === 0 ? first : { ...first, others };
