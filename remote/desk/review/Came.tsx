/** Owns the answer about how many people came: heads that were counted, by week. A class that nobody counted is in no mean. */
import type { Review, ReviewWeek } from '../../../shared/wire/review.ts';
import { Finding } from './Finding.tsx';
import { classes, longDay, number } from './say.ts';
import { Weeks } from './Weeks.tsx';

const question = 'How many people came?';
const meanOf = (w: ReviewWeek): number => w.heads / w.headClasses;
const people = (n: number): string => `${number(n, 0)} ${Math.round(n) === 1 ? 'person' : 'people'}`;

export function Came({ review: { weeks, held } }: { review: Review }) {
  const counted = weeks.filter((w) => w.headClasses > 0);
  const [heads, of] = counted.reduce(([h, n], w) => [h + w.heads, n + w.headClasses], [0, 0] as [number, number]);
  if (of === 0) return <Finding question={question} answer="Nobody counted heads. The number is set on the phone, during the class under More, or after it." />;
  const most = counted.reduce((a, b) => (meanOf(b) > meanOf(a) ? b : a));
  const least = counted.reduce((a, b) => (meanOf(b) < meanOf(a) ? b : a));
  const differ = number(meanOf(most), 0) !== number(meanOf(least), 0);
  return (
    <Finding
      question={question}
      answer={<>{people(heads / of)} a class on average, {of === held ? `counted in ${held === 1 ? 'the one class' : `all ${classes(held)}`}` : `counted in ${number(of)} of ${classes(held)}`}.{differ ? ` Most came in the week of ${longDay(most.monday)}, ${number(meanOf(most), 0)} a class; fewest in that of ${longDay(least.monday)}, ${number(meanOf(least), 0)}.` : ''}</>}
      table={{
        caption: 'People by week', head: ['Week of', 'Classes', 'Counted in', 'People in all', 'A class, on average'],
        rows: weeks.map((w) => [longDay(w.monday), number(w.held), number(w.headClasses), w.headClasses === 0 ? null : number(w.heads), w.headClasses === 0 ? null : number(meanOf(w))]),
      }}
    >
      <Weeks unit="people a class" label="People a class by week, on average; the numbers are in the table" bars={counted.map((w) => ({ monday: w.monday, whole: meanOf(w), part: null, of: w.headClasses }))} />
    </Finding>
  );
}
