/** Holds the wall as it is drawn anywhere: a replay of an instant shows what the screen showed then. */
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import type { PlanInput } from '../../plan/plan.ts';
import { planSchema } from '../../plan/plan.ts';
import { decide } from '../../session/decide.ts';
import { replay } from '../../session/evolve.ts';
import type { Session } from '../../session/session.ts';
import { after, serverAt } from '../../time/units.ts';
import { view } from '../../view/view.ts';
import { words } from '../../view/words.ts';
import { Scene } from './Scene.tsx';

const plan = planSchema.parse({
  format: 1, id: 'p', name: 'P', sections: [{ id: 'm', kind: 'main', show: 'none', work: 40, rest: 20, items: [{ movement: 'squat' }, { movement: 'lunge' }] }],
} satisfies PlanInput);
const facts = {
  squat: { name: 'Squat', start: 'standing' as const, end: 'standing' as const, sides: 'together' as const },
  lunge: { name: 'Lunge', start: 'standing' as const, end: 'standing' as const, sides: 'each' as const, phrases: { left: 'left leg back', right: 'right leg back' } },
};
const START = serverAt(1_750_000_000_000);

function held(): Session {
  const started = decide(null, { type: 'start', session: 's', room: 'r', plan, facts, settings: { countInMs: 3_000 }, freeAt: null }, START);
  if ('refused' in started) throw new Error(started.refused.sentence);
  return replay(started.events) as Session;
}

describe('a scene of the wall', () => {
  it('V305 shows the view of the log at that instant, and nothing of any other', () => {
    const session = held();
    const drawn = (ms: number) => {
      const at = after(START, ms);
      const v = view(session, at);
      const w = words(session, v);
      const markup = renderToStaticMarkup(<Scene session={session} view={v} words={w} corner={w.corner} library={new Map()} timeZone="UTC" alone={false} now={() => at} />);
      return { seconds: /class="seconds"[^>]*>([^<]*)/.exec(markup)?.[1], title: /class="title"[^>]*>([^<]*)/.exec(markup)?.[1], floor: /class="floor-dark"[^>]*scaleX\(([\d.]+)/.exec(markup)?.[1] };
    };
    expect(drawn(13_000)).toMatchObject({ seconds: '30', title: 'Squat' });
    expect(drawn(42_999)).toMatchObject({ seconds: '1', title: 'Squat' });
    expect(drawn(43_000 + 20_000 + 5_000)).toMatchObject({ seconds: '15', title: 'Lunge' });
    expect(Number(drawn(33_000).floor)).toBeGreaterThan(Number(drawn(13_000).floor));
  });
});
