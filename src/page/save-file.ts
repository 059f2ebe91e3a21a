/** Gives the person a file to keep, the way the browser keeps downloads. */
export const saveFile = (
  name: string,
  content: string | Uint8Array<ArrayBuffer> | Blob,
  type: string,
): void => {
  const blob = content instanceof Blob ? content : new Blob([content], { type });
  const address = URL.createObjectURL(blob);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken the content by then; a shorter time loses downloads that ask where to go.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
};
