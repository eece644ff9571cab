/** Owns the same figures by house where there are several, by room, by plan and by series or time of the week, each in the order of names: nothing here is a ranking. */
import { useState } from 'react';
import type { AllReview } from '../../../shared/wire/all.ts';
import type { Group, Review } from '../../../shared/wire/review.ts';
import { Table } from './Finding.tsx';
import { hours, number, part } from './say.ts';

const headOf = (move: string | undefined) => ['', 'Classes', move ? `${move} a class` : 'Work a class', 'People, on average', 'Began late', 'Later on the way', 'Load, on average'];
const EACH = 30;

function rowOf(g: Group, move: string | undefined): (string | null)[] {
  return [
    g.name, number(g.held), hours((move ? g.moveMs : g.workMs) / g.held), g.headClasses === 0 ? null : number(g.heads / g.headClasses, 0),
    g.lateOf === 0 ? null : `${part(g.lateStart, g.lateOf)} of ${number(g.lateOf)}`, g.lateOf === 0 ? null : `${part(g.grew, g.lateOf)} of ${number(g.lateOf)}`,
    g.rated === 0 ? null : number(g.load / g.rated, 0),
  ];
}

export function Groups({ review: r }: { review: Review | AllReview }) {
  return (
    <section className="finding groups">
      <h2>{'houses' in r ? 'By house, room, plan and series' : 'By room, plan and series'}</h2>
      <p className="finding-says">Each has its own people and its own work: they are told apart here, not compared.</p>
      {'houses' in r && <Part caption="Houses" groups={r.houses} move={r.movement?.name} />}
      <Part caption="Rooms" groups={r.rooms} move={r.movement?.name} />
      <Part caption="Plans" groups={r.plans} move={r.movement?.name} />
      <Part caption="Series and times of the week" groups={r.series} move={r.movement?.name} />
    </section>
  );
}

function Part({ caption, groups, move }: { caption: string; groups: readonly Group[]; move: string | undefined }) {
  const [shown, show] = useState(EACH);
  if (groups.length === 0) return null;
  return (
    <>
      <Table caption={caption} head={[caption, ...headOf(move).slice(1)]} rows={groups.slice(0, shown).map((g) => rowOf(g, move))} />
      {groups.length > shown && <button type="button" className="control" onClick={() => show(shown + EACH)}>{Math.min(EACH, groups.length - shown)} more</button>}
    </>
  );
}
