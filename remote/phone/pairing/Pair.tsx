/** Owns the page on which a phone gets its room: the code from the address is tried at once, else six digits by hand. */
import { useCallback, useEffect, useRef, useState } from 'react';
import { digitsOf, pair } from './pairing.ts';

interface Props {
  /** The code that came with the address, if one did. */
  readonly code: string | null;
  /** Why this phone has to pair again, if it was paired before. */
  readonly why: string | null;
  readonly onPaired: (room: string) => void;
}

export function Pair({ code, why, onPaired }: Props) {
  const [text, setText] = useState(code ?? '');
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const tried = useRef(false);
  const send = useCallback(async (digits: string) => {
    setBusy(true);
    setProblem(null);
    const got = await pair(digits);
    setBusy(false);
    if ('ok' in got) onPaired(got.ok);
    else {
      setProblem(got.problem);
      setText('');
    }
  }, [onPaired]);
  useEffect(() => {
    if (code === null || tried.current) return;
    tried.current = true;
    void send(digitsOf(code));
  }, [code, send]);
  const type = (value: string) => {
    const digits = digitsOf(value);
    setText(digits);
    if (digits.length === 6 && !busy) void send(digits);
  };
  const said = problem ?? (busy ? 'One moment.' : why);
  return (
    <main className="page pair">
      <h1>Which room?</h1>
      <p>Scan the QR code on the screen, or type the six digits under it.</p>
      <form onSubmit={(e) => { e.preventDefault(); void send(text); }}>
        <label htmlFor="code">Code on the screen</label>
        <input
          id="code" className="code" inputMode="numeric" autoComplete="one-time-code" pattern="\d*" placeholder="000000"
          value={text} readOnly={busy} aria-describedby="pair-said" onChange={(e) => type(e.target.value)}
        />
        <p id="pair-said" className={problem || (why && !busy) ? 'sentence' : 'quiet-words'} role="status">{said ?? ''}</p>
        <button type="submit" className="big" disabled={busy || text.length !== 6}><span className="big-word">Join</span></button>
      </form>
    </main>
  );
}
