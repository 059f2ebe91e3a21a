import type { PBound } from "./cell-reading.js";
import type { CodedFields } from "./codebook.js";

/**
 * One outcome, in one arm, at one test angle and site, at one time after baseline, as the codebook
 * codes it. Every optional field is absent when its cell is blank or says "not reported"; the two are
 * told apart by `notReported`, the columns whose cell said the source was searched in vain.
 */
export type OutcomeRow = CodedFields &
  Readonly<{
    /** Line of the file the row starts on; the header is line 1. */
    line: number;
    /** Codebook columns marked "not reported" on this row. */
    notReported: readonly string[];
    /** The p value where the source prints only a bound of it; `pValue` is absent then. */
    pBound?: PBound;
    /**
     * Filled cells of columns that the codebook does not know, by the column's name in the codebook's spelling
     * ("Coder mood" is coder_mood). A column holds numbers where every filled cell of the file is one, else text.
     */
    more?: Readonly<Record<string, string | number>>;
  }>;
