/** The part of a notebook kernel that shows things; tslab's `display` is one. */
export type NotebookDisplay = Readonly<{
  raw: (type: string, content: string) => void;
}>;

let target: NotebookDisplay | undefined;

/**
 * Says where tables, figures and answers of this notebook are shown; call it once, in the first cell.
 *
 * @param display what the kernel offers: `import { display } from "tslab"`
 * @source none: a connection
 */
export const showOn = (display: NotebookDisplay): void => {
  target = display;
};

/** Shows one thing; an object is shown as it is where its type is that of a specification. */
export const show = (type: string, content: unknown): void => {
  if (target === undefined)
    throw new Error(
      'nothing can be shown yet: call showOn(display) in the first cell, with import { display } from "tslab"',
    );
  // The kernel hands an object on as it is, though its declaration asks for text.
  target.raw(type, content as string);
};
