const invisible = /[\u200b-\u200d\u2060\ufeff\u00ad]/g;
const oddSpace = /[\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000\t]/g;
const plainCell = /^[!-~](?:[ -~]*[!-~])?$/;

/** A cell's text without outer spaces, invisible characters and spaces that only look like spaces. */
export const cleanCell = (raw: string): string =>
  plainCell.test(raw) ? raw : raw.replace(invisible, "").replace(oddSpace, " ").trim();
