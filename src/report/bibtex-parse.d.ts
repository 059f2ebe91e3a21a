/** What is used of the package `bibtex-parse`, which brings no declarations of its own. */
declare module "bibtex-parse" {
  export type Value = Readonly<{
    value: string | number | readonly Value[] | null;
    datatype: string;
  }>;
  export type Item =
    | (Readonly<{ itemtype: "string"; name: string }> & Value)
    | Readonly<{
        itemtype: "entry";
        type: string;
        key: string;
        fields: readonly (Readonly<{ name: string }> & Value)[];
      }>
    | Readonly<{ itemtype: "comment" | "preamble" }>;
  export const parse: (text: string) => readonly Item[];
}
