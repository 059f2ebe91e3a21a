import * as z from "zod";

// The page forbids making code out of text, and a browser reports even a refused attempt. This module
// stands first in the program, before any schema is made.
z.config({ jitless: true });

/** True once schemas check without making code; the program asks, so that this module is never left out. */
export const zodIsWithoutEval = true;
