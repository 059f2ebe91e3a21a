import { CallError, type CallErrorCode } from "../errors.js";

const words: Readonly<Record<string, readonly [code: CallErrorCode, got: string, mend: string]>> = {
  ENOENT: ["file-missing", "nothing there", "check the spelling and the folder"],
  EACCES: ["permission-denied", "permission denied", "ask for the right to it, or choose another"],
  EPERM: ["permission-denied", "permission denied", "ask for the right to it, or choose another"],
  EROFS: ["permission-denied", "a disk that cannot be written", "choose another place"],
  EISDIR: ["is-a-directory", "a directory", "name a file in it"],
  ENOTDIR: ["not-a-directory", "a file where a directory is needed", "check the path"],
  ENOSPC: ["disk-full", "a full disk", "make room and try again"],
  EMFILE: ["too-many-files", "too many open files", "close some and try again"],
  ENAMETOOLONG: ["name-too-long", "a name longer than the disk allows", "choose a shorter one"],
};

/** The error code of a failed system call, if that is what was thrown. */
export const systemCode = (error: unknown): string | undefined =>
  error instanceof Error &&
  "code" in error &&
  typeof error.code === "string" &&
  /^E[A-Z0-9]+$/.test(error.code)
    ? error.code
    : undefined;

/** A failed system call in words a user can act on; anything else is passed on as it is. */
export const fileProblem = (error: unknown, where: string, needs: string): unknown => {
  if (error instanceof CallError) return error;
  const system = systemCode(error);
  if (system === undefined) return error;
  const [code, got, mend] = words[system] ?? ["file-problem", `the system's answer ${system}`, ""];
  return new CallError({ code, where, needs, got, ...(mend === "" ? {} : { try: mend }) });
};
