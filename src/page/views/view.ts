import type { ComponentChildren } from "preact";

/** One screen of the page. A new view is one file and one line in `view-list.ts`. */
export type View = Readonly<{
  /** Its name in the address, kebab-case: `#/answers`. */
  id: string;
  /** In the navigation of its place; one or two words. */
  label: string;
  /** Shown only with a table open; without one the page asks for it in the view's place. */
  needsFile: boolean;
  /** What it shows once a file is open, for those that need one. */
  shows?: string;
  /** Its door on the first screen, for the views that open the three people's work. */
  door?: Readonly<{ title: string; sentence: string }>;
  /** The content below the view's heading, given every view; its own headings begin at level 2. */
  Body: (page: Readonly<{ views: readonly View[] }>) => ComponentChildren;
}>;

/** A place of the page: its views stand side by side under its name. */
export type Place = Readonly<{ label: string; views: readonly View[] }>;
