/** Moderators to the columns of a design, with names a reader understands. */
import { CallError, type Note } from "../errors.js";
import type { Matrix } from "../numeric/matrix.js";
import type { ModeratorTerm, SynthesisEffect } from "./synthesis-input.js";

export type DesignOptions = Readonly<{
  moderators?: readonly ModeratorTerm[];
  /** Level every other level of a categorical moderator is compared with; the first in text order if absent. */
  references?: Readonly<Record<string, string>>;
}>;

/** Columns that belong to one moderator term, for its joint test. */
export type DesignTerm = Readonly<{ name: string; columns: readonly number[] }>;

export type ModeratorDesign = Readonly<{
  matrix: Matrix;
  /** One per column; the first is `intercept`. */
  columnNames: readonly string[];
  terms: readonly DesignTerm[];
  /** Positions of the effects used, ascending; those without a moderator's value are set aside. */
  used: readonly number[];
  /** Reference level by categorical moderator. */
  references: Readonly<Record<string, string>>;
  notes: readonly Note[];
}>;

type Column = Readonly<{ name: string; values: Float64Array }>;

/** Joins the factors of an interaction in its name. */
export const interactionSign = " × ";

/**
 * Design of an intercept and the moderators asked for.
 *
 * A moderator whose every value is a number is one column, as it stands; any other is categorical:
 * one column of zeros and ones (`measure: isometric`) for each level but the reference. A term of
 * several names is the products of their columns; the parts of such a term are added when they are
 * not asked for by themselves. Effects without a value of a moderator in use are set aside with a note.
 *
 * @param effects the effects
 * @param options moderators and reference levels
 * @param where name of the calling function, for refusals
 * @returns design of the effects used, names, terms and notes
 * @throws {CallError} "unknown-moderator", "repeated-moderator", "one-level", "unknown-reference", "no-effects"
 * @source none: dummy coding
 */
export const moderatorDesign = (
  effects: readonly SynthesisEffect[],
  options: DesignOptions,
  where: string,
): ModeratorDesign => {
  const notes: Note[] = [];
  const terms = completeTerms(options.moderators ?? [], notes, where);
  const names = [...new Set(terms.flat())];
  for (const name of names) {
    if (!effects.some((effect) => valueOf(effect, name) !== undefined)) {
      throw new CallError({
        code: "unknown-moderator",
        where,
        needs: `moderators the effects carry (${moderatorNames(effects).join(", ") || "none"})`,
        got: name,
      });
    }
  }
  const used: number[] = [];
  const setAside: string[] = [];
  effects.forEach((effect, index) => {
    if (names.every((name) => valueOf(effect, name) !== undefined)) used.push(index);
    else setAside.push(effect.effectId);
  });
  if (setAside.length > 0) {
    notes.push({
      code: "moderator-missing",
      message: `${setAside.length} of ${effects.length} effects have no value of a moderator in use and are set aside: ${listed(setAside)}`,
    });
  }
  if (used.length === 0) {
    throw new CallError({
      code: "no-effects",
      where,
      needs: "at least one effect with a value of every moderator",
      got: "none",
    });
  }
  const rows = used.map((index) => effects[index]!);
  const references: Record<string, string> = {};
  const columnsOf = new Map<string, readonly Column[]>();
  for (const name of names) {
    columnsOf.set(name, mainColumns(rows, name, options.references ?? {}, references, where));
  }
  const columns: Column[] = [{ name: "intercept", values: new Float64Array(rows.length).fill(1) }];
  const designTerms = terms.map((factors) => {
    const products = factors
      .map((name) => columnsOf.get(name)!)
      .reduce((left, right) => left.flatMap((a) => right.map((b) => multiplied(a, b))));
    const start = columns.length;
    columns.push(...products);
    return {
      name: factors.join(interactionSign),
      columns: products.map((_, index) => start + index),
    };
  });
  const p = columns.length;
  const values = new Float64Array(rows.length * p);
  columns.forEach((column, j) => column.values.forEach((value, i) => (values[i * p + j] = value)));
  for (const [name, level] of Object.entries(references)) {
    notes.push({ code: "reference-level", message: `${name} is compared with "${level}"` });
  }
  return {
    matrix: { rows: rows.length, columns: p, values },
    columnNames: columns.map((column) => column.name),
    terms: designTerms,
    used,
    references,
    notes,
  };
};

const valueOf = (effect: SynthesisEffect, name: string): number | string | undefined => {
  const moderators = effect.moderators;
  if (moderators === undefined || !Object.hasOwn(moderators, name)) return undefined;
  const value = moderators[name];
  if (typeof value === "number") return Number.isFinite(value) ? value : undefined;
  return value === "" ? undefined : value;
};

const moderatorNames = (effects: readonly SynthesisEffect[]): readonly string[] =>
  [...new Set(effects.flatMap((effect) => Object.keys(effect.moderators ?? {})))].sort();

/** Every term as a list of names, lower-order parts before the products that need them. */
const completeTerms = (
  moderators: readonly ModeratorTerm[],
  notes: Note[],
  where: string,
): readonly (readonly string[])[] => {
  const terms: (readonly string[])[] = [];
  const seen = new Set<string>();
  const keyOf = (factors: readonly string[]) => JSON.stringify([...factors].sort());
  const asked = moderators.map((term) => (typeof term === "string" ? [term] : [...term]));
  for (const factors of asked) {
    const key = keyOf(factors);
    if (factors.length === 0 || new Set(factors).size < factors.length || seen.has(key)) {
      throw new CallError({
        code: "repeated-moderator",
        where,
        needs: "each moderator term once, made of different moderators",
        got: factors.join(interactionSign) || "an empty term",
      });
    }
    seen.add(key);
  }
  const added: string[] = [];
  for (const factors of asked) {
    for (const part of properParts(factors)) {
      if (seen.has(keyOf(part))) continue;
      seen.add(keyOf(part));
      terms.push(part);
      added.push(part.join(interactionSign));
    }
  }
  if (added.length > 0) {
    notes.push({
      code: "main-effects-added",
      message: `a product is only read beside its parts, so these were added: ${added.join(", ")}`,
    });
  }
  return [...terms, ...asked].sort((a, b) => a.length - b.length);
};

const properParts = (factors: readonly string[]): readonly (readonly string[])[] => {
  const parts: string[][] = [];
  for (let mask = 1; mask < 2 ** factors.length - 1; mask++) {
    parts.push(factors.filter((_, index) => (mask >> index) % 2 === 1));
  }
  return parts.sort((a, b) => a.length - b.length);
};

const mainColumns = (
  rows: readonly SynthesisEffect[],
  name: string,
  wanted: Readonly<Record<string, string>>,
  references: Record<string, string>,
  where: string,
): readonly Column[] => {
  const values = rows.map((row) => valueOf(row, name)!);
  const different = new Set(values);
  if (different.size < 2) {
    throw new CallError({
      code: "one-level",
      where,
      needs: `a moderator that differs between effects`,
      got: `${name} with the single value "${String(values[0])}"`,
    });
  }
  if (values.every((value) => typeof value === "number")) {
    return [{ name, values: Float64Array.from(values as readonly number[]) }];
  }
  const levels = [...new Set(values.map(String))].sort();
  const reference = Object.hasOwn(wanted, name) ? wanted[name]! : levels[0]!;
  if (!levels.includes(reference)) {
    throw new CallError({
      code: "unknown-reference",
      where,
      needs: `a reference level of ${name} among ${levels.join(", ")}`,
      got: reference,
    });
  }
  references[name] = reference;
  return levels
    .filter((level) => level !== reference)
    .map((level) => ({
      name: `${name}: ${level}`,
      values: Float64Array.from(values, (value) => (String(value) === level ? 1 : 0)),
    }));
};

const multiplied = (a: Column, b: Column): Column => ({
  name: a.name + interactionSign + b.name,
  values: a.values.map((value, index) => value * b.values[index]!),
});

const listed = (ids: readonly string[]): string =>
  ids.length <= 8 ? ids.join(", ") : `${ids.slice(0, 8).join(", ")} and ${ids.length - 8} more`;

/**
 * Names of the columns that depend on earlier ones, as a refusal.
 * @source none: a refusal
 */
export const refuseAliased = (
  design: ModeratorDesign,
  aliased: readonly number[],
  where: string,
): void => {
  if (aliased.length === 0) return;
  throw new CallError({
    code: "aliased-moderators",
    where,
    needs: "moderators that can be told apart on these effects",
    got: `${aliased.map((column) => design.columnNames[column]!).join(", ")} fixed by the terms before`,
    try: "leave one of them out",
  });
};
