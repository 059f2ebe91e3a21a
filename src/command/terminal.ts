import type { Command } from "commander";
import type { Evidence } from "../answers/evidence.js";
import type { Figure } from "../figures/figure.js";
import type { DrawnFigure } from "../host/draw-figure.js";
import { harmlessText, visibleText } from "../tables/visible-text.js";

/** Where a command writes: results on one stream, everything else on the other. */
export type Terminal = Readonly<{
  /** Results: text, tables, JSON. Kept clean so that pipes work. */
  out: (text: string) => void;
  /** Warnings and errors. */
  err: (text: string) => void;
  /** A line about how far the work is; shown only to a person at a terminal. */
  progress: (text: string) => void;
  /** Characters in a line. */
  width: number;
  /** Opens a file, and draws a figure; each anew where left out. Who runs many commands keeps what they share. */
  open?: (path: string) => Promise<Evidence>;
  draw?: (figure: Figure) => Promise<DrawnFigure>;
  /** The browser that prints the brief; looked for on this machine where left out. */
  printer?: () => Promise<string | undefined>;
  /** What is said of a mistake of the program; a file is written beside the person where left out. */
  unexpected?: (error: unknown) => string;
}>;

/** The same terminal with the one guard at its door: nothing out of a file can make it do anything but show text. */
export const guarded = (terminal: Terminal): Terminal => ({
  ...terminal,
  out: (text) => terminal.out(harmlessText(text)),
  err: (text) => terminal.err(harmlessText(text)),
  progress: (text) => terminal.progress(visibleText(text)),
});

/** Adds one command to the program; `finish` sets the exit code of a command that did its work. */
export type CommandRegistration = (
  program: Command,
  terminal: Terminal,
  finish: (exitCode: number) => void,
) => void;

/**
 * The real terminal.
 *
 * Progress goes to standard error, only when that is a terminal and `quiet` is off, and each line
 * replaces the one before, so that logs and pipes stay clean.
 */
export const processTerminal = (quiet: boolean): Terminal => {
  const showsProgress = !quiet && process.stderr.isTTY;
  let pending = false;
  const clear = (): void => {
    if (pending) process.stderr.write("\r\u001b[K");
    pending = false;
  };
  return {
    out: (text) => {
      clear();
      process.stdout.write(text.endsWith("\n") ? text : `${text}\n`);
    },
    err: (text) => {
      clear();
      process.stderr.write(text.endsWith("\n") ? text : `${text}\n`);
    },
    progress: (text) => {
      if (!showsProgress) return;
      clear();
      process.stderr.write(text);
      pending = true;
    },
    width: process.stdout.isTTY ? Math.max(60, Math.min(process.stdout.columns, 140)) : 100,
  };
};
