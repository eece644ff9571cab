/** Owns the page of many classes, of one studio or of all houses: what is asked for, and the answers in the order in which a studio asks. */
import { useEffect, useState } from 'react';
import type { z } from 'zod';
import { type AllReview, allReviewSchema } from '../../../shared/wire/all.ts';
import { type Review, reviewSchema } from '../../../shared/wire/review.ts';
import { AllNav } from '../all/AllNav.tsx';
import { OnlyWithPassword } from '../door/OnlyWithPassword.tsx';
import { useGet } from '../../common/use-get.ts';
import { FormStops, Load, WeeklyActivity } from './body-findings.tsx';
import { Came } from './Came.tsx';
import { DeskNav } from './DeskNav.tsx';
import { type Chosen, chosenIn, Filter, queryOf } from './Filter.tsx';
import { Cuts, HowMuch, Late, Shows } from './findings.tsx';
import { Groups } from './Groups.tsx';
import { classes, longDay } from './say.ts';

const READ_AGAIN_MS = 1_500;

interface Of { readonly api: string; readonly page: string; readonly here: '/desk?review' | '/desk/all'; readonly title: string; readonly schema: z.ZodType<Review | AllReview> }
const ofWhat: Readonly<Record<'studio' | 'all', Of>> = {
  studio: { api: '/api', page: '/desk?review', here: '/desk?review', title: 'What was really done', schema: reviewSchema },
  all: { api: '/api/all', page: '/desk/all?review', here: '/desk/all', title: 'What was really done in all houses', schema: allReviewSchema },
};

export function ReviewPage({ search, of }: { search: string; of: keyof typeof ofWhat }) {
  const { api, page, here, title, schema } = ofWhat[of];
  const [chosen, setChosen] = useState<Chosen>(() => chosenIn(search));
  const query = queryOf(chosen);
  const [got, again] = useGet(`${api}/review?${query}`, schema);
  const [shown, show] = useState<typeof got>(null);
  // What was there stays until the next answer has come.
  useEffect(() => { if (got) show(got); }, [got]);
  const choose = (next: Chosen) => {
    setChosen(next);
    const words = queryOf(next);
    window.history.replaceState(null, '', `${page}${words === '' ? '' : `&${words}`}`);
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
      <DeskNav here={here} />
      {of === 'all' && <AllNav here="review" />}
      <header><h1>{title}</h1>{review && review.held > 0 && <p>{longDay(review.from)} to {longDay(review.to)}{review.stopped > 0 ? `. ${classes(review.stopped)} in which somebody needed help ${review.stopped === 1 ? 'is' : 'are'} left out` : ''}</p>}</header>
      {shown && 'problem' in shown && <><p className="sentence" role="alert">{shown.problem}</p>{of === 'all' && <OnlyWithPassword />}<button type="button" className="control" onClick={again}>Ask again</button></>}
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
              <a className="control" href={`${api}/export.csv?${range(review, chosen)}`}>Table (CSV)</a>
              <a className="control" href={`${api}/export.json?${range(review, chosen)}`}>Data (JSON)</a>
            </p>
            <p className="quiet-words">Every class from {longDay(review.from)} to {longDay(review.to)}, a row each{of === 'all' ? (chosen.house === undefined ? ', its house first' : ', of the chosen house') : ''}. Nobody is named in it.</p>
          </section>
        </>
      )}
    </main>
  );
}

const range = ({ from, to }: Review, { house }: Chosen): string => new URLSearchParams({ from: day(from), to: day(to), ...(house === undefined ? {} : { house }) }).toString();
const day = (n: number): string => new Date(n * 86_400_000).toISOString().slice(0, 10);
