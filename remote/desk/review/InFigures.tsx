/** Owns what a class asked of its room: the answers to "How hard was that?", its load, energy as a range, minutes that count. */
import { ANSWERS_LEAST, sessionLoad } from '../../../shared/effort/load.ts';
import { kcalRange } from '../../../shared/effort/energy.ts';
import { english } from '../../../shared/words/languages.ts';
import { recordBodySchema } from '../../../shared/wire/review.ts';
import { useGet } from '../../common/use-get.ts';
import { Worked } from './Finding.tsx';
import { number } from './say.ts';

const MINUTE_MS = 60_000;

/** "between hard and very hard": the words that stand nearest below and above. */
function wordsOf(mean: number): string {
  const anchors = Object.entries(english.say.answer.ratings).map(([n, words]) => ({ n: Number(n), words }));
  const exact = anchors.find((a) => Math.abs(a.n - mean) < 0.25);
  if (exact) return exact.words.toLowerCase();
  const below = anchors.filter((a) => a.n < mean).at(-1);
  const above = anchors.find((a) => a.n > mean);
  return below && above ? `between ${below.words.toLowerCase()} and ${above.words.toLowerCase()}` : '';
}

export function InFigures({ id, stopped }: { id: string; stopped: boolean }) {
  const [got] = useGet(stopped ? null : `/api/classes/${encodeURIComponent(id)}/record`, recordBodySchema);
  if (stopped) return <section><h2>Effort and energy</h2><p>Somebody needed help in this class. It is in no figure and no export.</p></section>;
  const body = got && 'ok' in got ? got.ok : null;
  const record = body?.record;
  if (!body || !record) return null;
  const kcal = kcalRange(record.kcalPerKg);
  const counts = (record.moderateMs + 2 * record.vigorousMs) / MINUTE_MS;
  return (
    <section className="effort-answer">
      <h2>Effort and energy</h2>
      {record.effort ? (
        <p><b>{number(record.effort.mean)}</b> of 10, {wordsOf(record.effort.mean)}, from {record.effort.answers} answers; a session load of <b>{number(sessionLoad(record.effort.mean, record.totalMs / MINUTE_MS), 0)}</b>.</p>
      ) : body.answersUntil !== null ? <p>Answers to "How hard was that?" come in until {body.answersUntil}. What they come to is told then, once, so that no answer shows in a difference.</p> : <p>Fewer than {ANSWERS_LEAST} answers to "How hard was that?", so none are shown.</p>}
      <p>Energy: <b>{number(kcal.low, 0)} to {number(kcal.high, 0)} kcal</b> from 50 to 100 kg of body. {number(counts, 0)} minutes count towards a week's 150.</p>
      <div className="no-print"><Worked name="load" /><Worked name="energy" /><Worked name="week" /></div>
    </section>
  );
}
