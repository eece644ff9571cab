/**
 * Owns joining the screen to its room: the address names it (/screen/garden), else it is the first.
 * An address that names a plan (?rehearse=...) joins none: that class runs in the page alone.
 */
import { useRoom } from '../../shared/link/use-room.ts';
import { useStop } from '../../shared/link/use-stop.ts';
import { useChooseKeys } from './doors/use-choose-keys.ts';
import { RehearsalPage } from './rehearse/RehearsalPage.tsx';
import { useScreenSound } from './sound/use-screen-sound.ts';
import { useLibrary } from './use-library.ts';
import { useReloadOnNewVersion } from './use-version.ts';
import { usePlan } from './use-plan.ts';
import { useStopKeys } from './stop/use-stop-keys.ts';
import { useTheme } from './use-theme.ts';
import { Wall } from './Wall.tsx';

interface AppProps {
  readonly path: string;
  readonly search: string;
}

export function App({ path, search }: AppProps) {
  const rehearsed = new URLSearchParams(search).get('rehearse');
  return rehearsed === null ? <Screen path={path} search={search} /> : <RehearsalPage planId={rehearsed} search={search} />;
}

function Screen({ path, search }: AppProps) {
  const stop = useStop(useRoom('screen', roomOf(path)));
  const { room } = stop;
  const keys = useStopKeys(stop);
  const byKeys = useChooseKeys(room, stop.now !== null);
  const sound = useScreenSound(room, stop.now !== null);
  const plan = usePlan(byKeys.plan ?? room.about?.chosen ?? null);
  useTheme(search);
  useReloadOnNewVersion(room.about?.version ?? null);
  const library = useLibrary(room.link.state === 'live', room.session?.id ?? null);
  return <Wall room={room} library={library} overscan={new URLSearchParams(search).has('overscan')} sound={sound} plan={plan} stop={stop.now} keys={keys} byKeys={byKeys} />;
}

/** The empty name is the studio's first room. */
export const roomOf = (path: string): string => decodeURIComponent(/^\/screen\/([^/]+)/.exec(path)?.[1] ?? '');
