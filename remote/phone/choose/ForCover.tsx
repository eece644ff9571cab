/** Owns the note that is left for whoever covers this class: read here, written here, kept beside the plan. */
import { useState } from 'react';
import { NOTE_MAX } from '../../../shared/limits.ts';
import { coverSchema } from '../../../shared/wire/http.ts';
import { ask } from '../../common/get.ts';
import { useGet } from '../../common/use-get.ts';

export function ForCover({ plan }: { plan: string }) {
  const path = `/api/plans/${encodeURIComponent(plan)}/cover`;
  const [got] = useGet(path, coverSchema);
  const [text, setText] = useState<string | null>(null);
  const [said, say] = useState<string | null>(null);
  const kept = got && 'ok' in got ? got.ok.note : '';
  const keep = async () => {
    const answer = await ask(path, coverSchema, { note: (text ?? '').trim() }, 'PUT');
    say('ok' in answer ? 'Kept.' : answer.problem);
  };
  return (
    <details className="cover" open={kept !== ''}>
      <summary>{kept === '' ? 'Leave a note for cover' : 'Left for cover'}</summary>
      <textarea aria-label="Note for cover" rows={3} maxLength={NOTE_MAX} value={text ?? kept} onChange={(e) => { setText(e.target.value); say(null); }} />
      <p className="quiet-words">No names. Whoever takes over the class by the code reads it. Changes that they make during a class leave the plan as it is.</p>
      {text !== null && text.trim() !== kept && said === null && <button type="button" className="control" onClick={() => void keep()}>Keep the note for cover</button>}
      {said && <p role="status">{said}</p>}
    </details>
  );
}
