/** Owns the sheet that rises over the class: its title, its close, and what it says when a tap is refused. */
import { type ReactNode, useEffect, useRef } from 'react';

interface Props {
  readonly title: string;
  readonly sentence: string | null;
  readonly onClose: () => void;
  readonly children: ReactNode;
}

export function Sheet({ title, sentence, onClose, children }: Props) {
  const sheet = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const open = sheet.current;
    if (open && !open.open) open.showModal();
  }, []);
  return (
    <dialog ref={sheet} className="sheet" aria-label={title} onClose={onClose}>
      <div className="sheet-top">
        <h2>{title}</h2>
        <button type="button" className="control" onClick={onClose}>Close</button>
      </div>
      {sentence && <p className="sentence" role="alert">{sentence}</p>}
      {children}
    </dialog>
  );
}
