import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";

export type FullScreenProps = Readonly<{
  title: string;
  onClose: () => void;
  children: ComponentChildren;
}>;

/**
 * Something alone on the whole screen, for a lecture; Escape or the button ends it.
 *
 * Where the browser gives no full screen it fills the page.
 */
export const FullScreen = ({ title, onClose, children }: FullScreenProps) => {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    let open = true;
    const before = document.activeElement;
    const begin = async (): Promise<void> => {
      try {
        await document.documentElement.requestFullscreen();
      } catch {
        // Not allowed here; filling the page does.
      }
      if (open) dialog.current?.showModal();
    };
    const changed = (): void => {
      if (document.fullscreenElement === null) dialog.current?.close();
    };
    void begin();
    document.addEventListener("fullscreenchange", changed);
    return () => {
      open = false;
      document.removeEventListener("fullscreenchange", changed);
      if (document.fullscreenElement !== null) void document.exitFullscreen();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog ref={dialog} class="full-screen" aria-label={title} onClose={onClose}>
      <button type="button" onClick={() => dialog.current?.close()}>
        Close
      </button>
      <div class="stage">{children}</div>
    </dialog>
  );
};
