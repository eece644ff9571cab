/** Owns a participant's one question after a class: 0 to 10, sent once, and what becomes of it in plain words. */
import { useState } from 'react';
import { ANSWERS_LEAST, RATING_MOST, ratingWords } from '../../shared/effort/load.ts';
import { answeredSchema, questionSchema } from '../../shared/wire/review.ts';
import { ask } from '../common/get.ts';
import { useGet } from '../common/use-get.ts';

const ratings = Array.from({ length: RATING_MOST + 1 }, (_, n) => n);
type State = 'asking' | 'sending' | 'thanks' | { readonly problem: string };

export function AnswerPage({ id }: { id: string }) {
  const path = `/api/answers/${encodeURIComponent(id)}`;
  const [got, again] = useGet(path, questionSchema);
  const [rating, choose] = useState<number | null>(null);
  const [state, set] = useState<State>('asking');
  const question = got && 'ok' in got ? got.ok : null;
  const send = async () => {
    if (rating === null) return;
    set('sending');
    const answer = await ask(path, answeredSchema, { rating });
    set('problem' in answer ? { problem: answer.problem } : 'thanks');
  };
  if (state === 'thanks') {
    return (
      <main className="answer">
        <h1>Thank you.</h1>
        <p>Your answer was counted. You can close this page.</p>
      </main>
    );
  }
  return (
    <main className="answer">
      <h1>How hard was that?</h1>
      {question && <p>{question.name}, the whole of it.</p>}
      {got && 'problem' in got && <><p className="sentence" role="alert">{got.problem}</p><button type="button" className="control" onClick={again}>Ask again</button></>}
      {!got && <p className="quiet-words">One moment.</p>}
      {question && (
        <>
          <fieldset className="ratings">
            <legend className="sr">How hard was that, from 0 to 10?</legend>
            {ratings.map((n) => (
              <label key={n} data-chosen={n === rating || undefined}>
                <input type="radio" name="rating" value={n} checked={n === rating} onChange={() => choose(n)} />
                <b>{n}</b><i style={{ width: `${(n / RATING_MOST) * 100}%` }} aria-hidden="true" /><span>{ratingWords[n] ?? ''}</span>
              </label>
            ))}
          </fieldset>
          <button type="button" className="control answer-send" disabled={rating === null || state === 'sending'} onClick={() => void send()}>{rating === null ? 'Choose a number' : state === 'sending' ? 'Sending' : `Send ${rating}`}</button>
          {typeof state === 'object' && <p className="sentence" role="alert">{state.problem}</p>}
          <div className="answer-small">
            <p>Only how often each number was chosen is kept. No name, no account, no cookie, nothing on your phone. What is told is their mean, once, after {question.until}, when no more answers come in; fewer than {ANSWERS_LEAST} are told to nobody.</p>
            <p>So that a phone counts once, the studio's computer remembers its address in the Wi-Fi, scrambled, until then; it is not written down. That cannot be perfect: who changes the address can answer twice, and two phones behind one address count once.</p>
            <p>The scale is Foster's 0 to 10 (J Strength Cond Res 2001; 15:109-15), after Borg's CR-10.</p>
          </div>
        </>
      )}
    </main>
  );
}
