/** Owns the page of many classes: what is asked for, and the answers in the order in which a studio asks. */
import { useEffect, useState } from 'react';
import { reviewSchema } from '../../../shared/wire/review.ts';
import { useGet } from '../../common/use-get.ts';
import { FormStops, Load, WeeklyActivity } from './body-findings.tsx';
import { Came } from './Came.tsx';
import { DeskNav } from './DeskNav.tsx';
import { type Chosen, chosenIn, Filter, queryOf } from './Filter.tsx';
import { Cuts, HowMuch, Late, Shows } from './findings.tsx';
import { Groups } from './Groups.tsx';
import { classes, longDay } from './say.ts';

const READ_AGAIN_MS = 1_500;

export function ReviewPage({ search }: { search: string }) {
  const [chosen, setChosen] = useState<Chosen>(() => chosenIn(search));
  const query = queryOf(chosen);
  const [got, again] = useGet(`/api/review?${query}`, reviewSchema);
  const [shown, show] = useState<typeof got>(null);
  // What was there stays until the next answer has come.
  useEffect(() => { if (got) show(got); }, [got]);
  const choose = (next: Chosen) => {
    setChosen(next);
    const words = queryOf(next);
    window.history.replaceState(null, '', `/desk?review${words === '' ? '' : `&${words}`}`);
  };
  const review = shown && 'ok' in shown ? shown.ok : null;
  const reading = (review?.toRead ?? 0) > 0;
  useEffect(() => {
    if (!reading || !got) return;
    const timer = setTimeout(again, READ_AGAIN_MS);
    return () => clearTimeout(timer);
  }, [reading, got, again]);
  return (
    <main className="desk review-page">
      <DeskNav here="/desk?review" />
      <header><h1>What was really done</h1>{review && review.held > 0 && <p>{longDay(review.from)} to {longDay(review.to)}{review.stopped > 0 ? `. ${classes(review.stopped)} in which somebody needed help ${review.stopped === 1 ? 'is' : 'are'} left out` : ''}</p>}</header>
      {shown && 'problem' in shown && <><p className="sentence" role="alert">{shown.problem}</p><button type="button" className="control" onClick={again}>Ask again</button></>}
      {!shown && <p className="quiet-words">One moment.</p>}
      {review && (
        <>
          <Filter chosen={chosen} review={review} choose={choose} />
          {reading && <p className="sentence" role="status">The log is being read for the first time: {classes(review.toRead)} to go. What is here grows until then.</p>}
          {review.held === 0 ? !reading && <p className="quiet-words">{review.first === null ? 'No class has been held yet. What it came to will be here when it is over.' : 'No class was held in this time. Choose a longer one.'}</p> : (
            <>
              <HowMuch review={review} />
              <Came review={review} />
              <Late review={review} />
              <Cuts review={review} />
              <FormStops review={review} />
              <Shows review={review} />
              <Load review={review} />
              <WeeklyActivity review={review} />
              <Groups review={review} />
            </>
          )}
          <section>
            <h2>Take it with you</h2>
            <p className="spans">
              <a className="control" href={`/api/export.csv?from=${day(review.from)}&to=${day(review.to)}`}>Table (CSV)</a>
              <a className="control" href={`/api/export.json?from=${day(review.from)}&to=${day(review.to)}`}>Data (JSON)</a>
            </p>
            <p className="quiet-words">Every class from {longDay(review.from)} to {longDay(review.to)}, a row each. Nobody is named in it.</p>
          </section>
        </>
      )}
    </main>
  );
}

const day = (n: number): string => new Date(n * 86_400_000).toISOString().slice(0, 10);
