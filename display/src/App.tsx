/**
 * Owns joining the screen to its room: the address names it (/screen/garden), else it is the first.
 * An address that names a plan (?rehearse=...) joins none: that class runs in the page alone.
 */
import { lazy, Suspense, useRef } from 'react';
import { LanguageProvider } from '../../shared/ui/language.ts';
import { useKept } from '../../shared/link/use-kept.ts';
import { useRoom } from '../../shared/link/use-room.ts';
import { useStop } from '../../shared/link/use-stop.ts';
import { useChooseKeys } from './doors/use-choose-keys.ts';
import { useOwn } from './set-up/use-own.ts';
import { useScreenSound } from './sound/use-screen-sound.ts';
import { useLibrary } from './use-library.ts';
import { useReloadOnNewVersion } from './use-version.ts';
import { usePlan } from './use-plan.ts';
import { useStopKeys } from './stop/use-stop-keys.ts';
import { useScreenLanguage } from './use-screen-language.ts';
import { useTheme } from './use-theme.ts';
import { Wall } from './Wall.tsx';

/** Loads apart: a screen in a hall never asks for it. */
const RehearsalPage = lazy(async () => ({ default: (await import('./rehearse/RehearsalPage.tsx')).RehearsalPage }));

interface AppProps {
  readonly path: string;
  readonly search: string;
}

export function App({ path, search }: AppProps) {
  const rehearsed = new URLSearchParams(search).get('rehearse');
  return rehearsed === null ? <Screen path={path} search={search} /> : <Suspense fallback={null}><RehearsalPage planId={rehearsed} search={search} /></Suspense>;
}

function Screen({ path, search }: AppProps) {
  const stop = useStop(useKept(useRoom('screen', roomOf(path)), roomOf(path)));
  const { room } = stop;
  const keys = useStopKeys(stop);
  const shown = useRef<string | null>(null);
  const byKeys = useChooseKeys(room, stop.now !== null, shown);
  const { language, turn } = useScreenLanguage(search, room.about?.studio.language ?? null);
  const sound = useScreenSound(room, stop.now !== null, language);
  const plan = usePlan(byKeys.plan ?? room.about?.chosen ?? null);
  shown.current = plan?.id ?? null;
  const own = useOwn(search);
  useTheme(own.own.light);
  useReloadOnNewVersion(room.about?.version ?? null);
  const library = useLibrary(room.link.state === 'live', room.session?.id ?? null);
  return (
    <LanguageProvider value={language}>
      <Wall room={room} library={library} own={own} settingUp={new URLSearchParams(search).has('setup')} sound={sound} plan={plan} stop={stop.now} keys={keys} byKeys={byKeys} onLanguage={turn} />
    </LanguageProvider>
  );
}

/** The empty name is the studio's first room. */
export const roomOf = (path: string): string => decodeURIComponent(/^\/screen\/([^/]+)/.exec(path)?.[1] ?? '');
