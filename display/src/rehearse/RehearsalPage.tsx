/** Owns the screen as a rehearsal of a plan: reads plan and movements, then runs the class in this page alone. */
import { useCallback, useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import { deviceClock } from '../../../shared/link/device-clock.ts';
import type { Library } from '../../../shared/movement/movement.ts';
import { LanguageProvider, useLanguage } from '../../../shared/ui/language.ts';
import type { Language } from '../../../shared/words/language.ts';
import { factsOf } from '../../../shared/plan/facts.ts';
import type { Plan } from '../../../shared/plan/plan.ts';
import { placeAt } from '../../../shared/session/place.ts';
import { serverAt } from '../../../shared/time/units.ts';
import { amongNobody } from '../../../shared/wire/messages/people.ts';
import { ClassWall } from '../class/ClassWall.tsx';
import { scaleFor } from '../../../shared/ui/wall/legibility.ts';
import { PictureProvider, useMeasuredPicture, wallProps } from '../../../shared/ui/wall/picture.ts';
import { useSound } from '../../../shared/sound/use-sound.ts';
import { useFrames } from '../../../shared/ui/wall/use-frames.ts';
import type { Own } from '../set-up/own.ts';
import { useOwn } from '../set-up/use-own.ts';
import { useLibrary } from '../use-library.ts';
import { useScreenLanguage } from '../use-screen-language.ts';
import { useTheme } from '../use-theme.ts';
import { faster, rateOf, slower } from './rate.ts';
import { type RateClock, rateClock } from './rate-clock.ts';
import { openRehearsal, type Rehearsal } from './rehearsal.ts';
import { usePlan } from './use-plan.ts';
import '../../../shared/ui/custom-properties.ts';
import '../wall.css';
import './rehearse.css';

interface PageProps {
  readonly planId: string;
  readonly search: string;
}

export function RehearsalPage(props: PageProps) {
  const { own } = useOwn(props.search);
  useTheme(own.light);
  const { language } = useScreenLanguage(props.search, null);
  return <LanguageProvider value={language}><Read {...props} own={own} /></LanguageProvider>;
}

function Read({ planId, search, own }: PageProps & { readonly own: Own }) {
  const language = useLanguage();
  const library = useLibrary(true, null);
  const plan = usePlan(planId);
  const params = new URLSearchParams(search);
  if ('problem' in plan) return <Sentence text={typeof plan.problem === 'string' ? plan.problem : plan.problem(language.say.rehearsal)} />;
  if (!('ok' in plan) || library.size === 0) return <Sentence text={language.say.rehearsal.reading} />;
  return <Run plan={plan.ok} library={library} rate={rateOf(params.get('rate'))} own={own} />;
}

function Sentence({ text }: { text: string }) {
  return <p className="rehearsal-says" role="status">{text}</p>;
}

interface RunProps {
  readonly plan: Plan;
  readonly library: Library;
  readonly rate: number;
  readonly own: Own;
}

const about = (plan: Plan, { say }: Language) => ({
  room: { id: 'rehearsal', name: say.rehearsal.name, pattern: 0 },
  studio: { name: plan.name, timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone },
  version: '', pairing: null, chosen: null, present: { screens: 1, phones: 0 }, ...amongNobody,
});

function Run({ plan, library, rate: first, own }: RunProps) {
  const language = useLanguage();
  const [turn, setTurn] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new turn begins the rehearsal again
  const opened = useMemo(() => {
    const clock = rateClock(serverAt(Math.floor(deviceClock.wallMs())), first, () => performance.now());
    const facts = Object.fromEntries([...library.values()].map((m) => [m.id, factsOf(m)]));
    return { clock, rehearsal: openRehearsal({ plan, facts, now: clock.now, about: about(plan, language) }) };
  }, [plan, library, first, turn]);
  const { clock, rehearsal } = opened;
  if ('refused' in rehearsal) return <Sentence text={language.say.refused[rehearsal.refused.reason] ?? rehearsal.refused.sentence} />;
  return <Running key={turn} rehearsal={rehearsal} clock={clock} library={library} own={own} onAgain={() => setTurn(turn + 1)} />;
}

interface RunningProps {
  readonly rehearsal: Rehearsal;
  readonly clock: RateClock;
  readonly library: Library;
  readonly own: Own;
  readonly onAgain: () => void;
}

function Running({ rehearsal, clock, library, own, onAgain }: RunningProps) {
  const language = useLanguage();
  const { rehearsal: say } = language.say;
  const room = useSyncExternalStore(rehearsal.subscribe, rehearsal.room);
  const picture = useMeasuredPicture(own.overscan, scaleFor(own));
  const [rate, setRate] = useState(clock.rate());
  const [over, setOver] = useState(false);
  const sound = useSound(room, room.about?.room.pattern ?? null, { rate: clock.rate, language });
  useFrames(() => {
    rehearsal.step();
    const { session, now } = rehearsal.room();
    const at = now();
    if (session && at !== null && !over && placeAt(session, at).over) setOver(true);
  });
  const runAt = useCallback((next: number) => {
    clock.setRate(next);
    setRate(next);
  }, [clock]);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      if (event.key === '+' || event.key === '=') runAt(faster(clock.rate()));
      if (event.key === '-') runAt(slower(clock.rate()));
      if (over && !event.repeat && (event.key === 'Enter' || event.key === ' ')) onAgain();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [clock, over, onAgain, runAt]);
  return (
    <>
      <PictureProvider value={picture}>
        <main {...wallProps(picture, own.overscan)} lang={language.tag} dir={language.direction}>
          {room.session && room.about && (
            <ClassWall room={room} session={room.session} about={room.about} library={library} alone={false} sound={sound} />
          )}
        </main>
      </PictureProvider>
      <aside className="rehearsal">
        <p role="status">{say.rate(rate)}</p>
        <button type="button" aria-label={say.slower} onClick={(e) => { e.currentTarget.blur(); runAt(slower(rate)); }}>&minus;</button>
        <button type="button" aria-label={say.faster} onClick={(e) => { e.currentTarget.blur(); runAt(faster(rate)); }}>+</button>
        {over && <button type="button" onClick={onAgain}>{say.again}</button>}
      </aside>
    </>
  );
}
