/** Owns the page that the picture script opens: one state of the screen, at a fixed instant. */
import { createRoot } from 'react-dom/client';
import type { Heard } from '../../display/src/doors/SoundPart.tsx';
import { defaults } from '../../shared/sound/settings.ts';
import { useTheme } from '../../display/src/use-theme.ts';
import { Wall } from '../../display/src/Wall.tsx';
import { stopIn } from '../../shared/link/own-stop.ts';
import { serverAt } from '../../shared/time/units.ts';
import { libraryFrom } from './library.ts';
import { roomIn, type StateName } from './states.ts';

const files: Record<string, unknown> = import.meta.glob('../../media/movements/*.json', { eager: true, import: 'default' });
const library = libraryFrom(Object.values(files));
const asked = new URLSearchParams(location.search);
const room = roomIn((asked.get('state') ?? 'doors') as StateName, library);

const nothing = async (): Promise<void> => undefined;
const sound: Heard = {
  state: asked.has('locked') ? 'locked' : 'on', problem: null, caption: null, testing: null, settings: defaults,
  unlock: nothing, test: nothing, at: () => nothing, change: () => undefined,
};

function Page() {
  useTheme(location.search);
  return <Wall room={room} library={library} overscan={asked.has('overscan')} sound={sound} plan={null} stop={stopIn(room, room.now() ?? serverAt(0))} keys={asked.has('keys')} />;
}

const wall = document.getElementById('wall');
if (wall) createRoot(wall).render(<Page />);
