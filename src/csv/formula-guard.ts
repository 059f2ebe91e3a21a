/** Text a spreadsheet would run rather than show: it starts like a formula and is no plain number. */
const startsLikeFormula = /^'*[=+\-@\t\r]/;
const plainNumber = /^[+-]?(\d+([.,]\d+)?|[.,]\d+)(e[+-]?\d+)?%?$/i;
const guardedFormula = /^'+[=+\-@\t\r]/;

/**
 * A cell that a spreadsheet shows instead of running: text that starts like a formula gets a leading
 * apostrophe, plain numbers such as −3 written "-3" stay as they are.
 *
 * @example
 * guardFormula("=1+1")
 * // => "'=1+1"
 */
export const guardFormula = (cell: string): string =>
  startsLikeFormula.test(cell) && !plainNumber.test(cell) ? `'${cell}` : cell;

/** The cell as it was before `guardFormula`: `unguardFormula(guardFormula(x))` is x, for every x. */
export const unguardFormula = (cell: string): string =>
  guardedFormula.test(cell) ? cell.slice(1) : cell;
