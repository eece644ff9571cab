/** Owns asking a browser that may only look for the six digits, in its place on the page: nobody has to leave what they write. */
import { useState } from 'react';
import { pairedSchema } from '../../../shared/wire/http.ts';
import { ask } from '../../common/get.ts';

export function PairHere({ done }: { done: () => void }) {
  const [digits, setDigits] = useState('');
  const [said, setSaid] = useState<string | null>(null);
  const send = async (code: string) => {
    const got = await ask('/api/pair', pairedSchema, { code });
    if ('ok' in got) done();
    else { setSaid(got.problem); setDigits(''); }
  };
  return (
    <div className="told pair-here no-print">
      <label htmlFor="pair-here">To keep plans here, type the six digits that the screen shows</label>
      <input id="pair-here" inputMode="numeric" autoComplete="one-time-code" placeholder="000000" value={digits} onChange={(e) => {
        const typed = e.target.value.replace(/\D/g, '').slice(0, 6);
        setDigits(typed);
        if (typed.length === 6) void send(typed);
      }} />
      {said && <p role="alert">{said}</p>}
    </div>
  );
}
