/** Owns writing a note. Its words stay in the field until the server has them. */
import { useState } from 'react';
import type { Taps } from '../hooks/use-taps.ts';

export function Note({ taps, most }: { taps: Taps; most: number }) {
  const [text, setText] = useState('');
  const keep = async () => { if (await taps.tap('note', { type: 'note', text: text.trim() })) setText(''); };
  return (
    <form className="sheet-part note" onSubmit={(e) => { e.preventDefault(); void keep(); }}>
      <label htmlFor="note">Note</label>
      <textarea id="note" rows={3} maxLength={most} value={text} onChange={(e) => setText(e.target.value)} />
      <button type="submit" className="control" disabled={text.trim() === '' || taps.sending.has('note')}>
        {taps.done === 'note' ? 'Kept' : 'Keep the note'}
      </button>
    </form>
  );
}
