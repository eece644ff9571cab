/** Owns a participant's one question after a class: 0 to 10, sent once, and what becomes of it in plain words, in a language of the participant's choice. */
import { useEffect, useState } from 'react';
import { ANSWERS_LEAST, RATING_MOST } from '../../shared/effort/load.ts';
import { serverAt } from '../../shared/time/units.ts';
import { answeredSchema, questionSchema } from '../../shared/wire/review.ts';
import type { AnswerWords } from '../../shared/words/catalogue.ts';
import { languageIn, languages } from '../../shared/words/languages.ts';
import { ask, type Got } from '../common/get.ts';
import { useGet } from '../common/use-get.ts';
import { useReaderLanguage } from './use-reader-language.ts';

const ratings = Array.from({ length: RATING_MOST + 1 }, (_, n) => n);
type State = 'asking' | 'sending' | 'thanks' | keyof AnswerWords['problem'];

/** Why there is no answer, by what HTTP says of it; 409 is "not yet" to who asks and "once already" to who answers. */
const reasons: Readonly<Record<number, keyof AnswerWords['problem']>> = { 404: 'none', 410: 'closed', 507: 'notCounted' };
const reasonOf = (got: Extract<Got<unknown>, { problem: string }>, conflict: keyof AnswerWords['problem']) =>
  got.status === undefined ? 'away' : got.status === 409 ? conflict : reasons[got.status] ?? 'other';

export function AnswerPage({ id }: { id: string }) {
  const path = `/api/answers/${encodeURIComponent(id)}`;
  const [got, again] = useGet(path, questionSchema);
  const [rating, choose] = useState<number | null>(null);
  const [state, set] = useState<State>('asking');
  const question = got && 'ok' in got ? got.ok : null;
  const { language, speak } = useReaderLanguage(question?.language ?? null);
  const { answer: say } = language.say;
  useEffect(() => { document.title = say.howHard; }, [say]);
  const send = async () => {
    if (rating === null) return;
    set('sending');
    const answer = await ask(path, answeredSchema, { rating });
    set('problem' in answer ? reasonOf(answer, 'answered') : 'thanks');
  };
  const words: Readonly<Record<number, string>> = say.ratings;
  return (
    <main className="answer">
      <nav aria-label={say.language}>
        {languages.map((l) => <button key={l.id} type="button" lang={l.id} dir={l.direction} aria-pressed={l.id === languageIn(language.tag)} onClick={() => speak(l.id)}>{l.name}</button>)}
      </nav>
      {state === 'thanks' ? <><h1>{say.thanks}</h1><p>{say.counted}</p></> : <h1>{say.howHard}</h1>}
      {state !== 'thanks' && question && <p>{say.theWhole(question.name)}</p>}
      {got && 'problem' in got && <><p className="sentence" role="alert">{say.problem[reasonOf(got, 'notEnded')]}</p><button type="button" className="control" onClick={again}>{say.again}</button></>}
      {!got && <p className="quiet-words">{say.oneMoment}</p>}
      {state !== 'thanks' && question && (
        <>
          <fieldset className="ratings">
            <legend className="sr">{say.from0To10}</legend>
            {ratings.map((n) => (
              <label key={n} data-chosen={n === rating || undefined}>
                <input type="radio" name={id} value={n} checked={n === rating} onChange={() => choose(n)} />
                <b>{language.number(n)}</b><i style={{ width: `${(n / RATING_MOST) * 100}%` }} aria-hidden="true" /><span>{words[n] ?? ''}</span>
              </label>
            ))}
          </fieldset>
          <button type="button" className="control answer-send" disabled={rating === null || state === 'sending'} onClick={() => void send()}>{rating === null ? say.choose : state === 'sending' ? say.sending : say.send(rating)}</button>
          {state !== 'asking' && state !== 'sending' && <p className="sentence" role="alert">{say.problem[state]}</p>}
          <div className="answer-small">
            <p>{say.kept(language.clock(serverAt(question.untilAt), question.timeZone), ANSWERS_LEAST)}</p>
            <p>{say.addresses}</p>
            <p>{say.scale}</p>
          </div>
        </>
      )}
    </main>
  );
}
