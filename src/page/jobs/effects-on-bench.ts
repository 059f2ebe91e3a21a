import type { Contrast, EffectScale, EffectSet } from "../../effects/effect.js";
import { effectsFromRows } from "../../effects/effects-from-rows.js";
import { openFile, type Bench, type BenchFile } from "./bench.js";

const madeFor = new WeakMap<BenchFile, Map<string, EffectSet>>();

/** The effects of the open table on a scale and contrast; made once for each. */
export const effectsOnBench = (
  bench: Bench,
  { scale, contrast }: Readonly<{ scale: EffectScale; contrast: Contrast }>,
): EffectSet => {
  const file = openFile(bench);
  const made = madeFor.get(file) ?? new Map<string, EffectSet>();
  madeFor.set(file, made);
  const key = `${scale} ${contrast}`;
  const known = made.get(key);
  if (known !== undefined) return known;
  const set = effectsFromRows(file.records.rows, { scale, contrast });
  made.set(key, set);
  return set;
};
