/** Owns the page that pictures and tests of the look open: one state of the screen at a fixed instant; `show` goes on to another without loading anew. */
import { useState } from 'react';
import { flushSync } from 'react-dom';
import { createRoot } from 'react-dom/client';
import type { Heard } from '../../display/src/doors/SoundPart.tsx';
import { type Own, usual, withAsked } from '../../display/src/set-up/own.ts';
import { useScreenLanguage } from '../../display/src/use-screen-language.ts';
import { useTheme } from '../../display/src/use-theme.ts';
import { Wall } from '../../display/src/Wall.tsx';
import { stopIn } from '../../shared/link/own-stop.ts';
import { defaults } from '../../shared/sound/settings.ts';
import { serverAt } from '../../shared/time/units.ts';
import { LanguageProvider } from '../../shared/ui/language.ts';
import { libraryFrom } from './library.ts';
import { roomIn, type StateName } from './states.ts';

const files: Record<string, unknown> = import.meta.glob('../../media/movements/*.json', { eager: true, import: 'default' });
const library = libraryFrom(Object.values(files));
const nothing = async (): Promise<void> => undefined;

function Page({ search }: { search: string }) {
  const asked = new URLSearchParams(search);
  const room = roomIn((asked.get('state') ?? 'doors') as StateName, library);
  const [own, keep] = useState<Own>(() => withAsked({
    ...usual, light: 'day', diagonalInch: Number(asked.get('inch') ?? usual.diagonalInch), farthestMatMm: Number(asked.get('far') ?? usual.farthestMatMm),
    lowerEdgeMm: Number(asked.get('edge') ?? usual.lowerEdgeMm),
  }, search));
  const sound: Heard = {
    state: asked.has('locked') ? 'locked' : 'on', problem: null, caption: null, counts: false, testing: null, settings: defaults,
    unlock: nothing, test: nothing, at: () => nothing, change: () => undefined,
  };
  useTheme(own.light);
  const { language, turn } = useScreenLanguage(search, null);
  return (
    <LanguageProvider value={language}>
      <Wall
        room={room} library={library} own={{ own, change: (to) => keep({ ...own, ...to }) }} settingUp={asked.has('setup')} sound={sound} plan={null}
        stop={stopIn(room, room.now() ?? serverAt(0))} keys={asked.has('keys')} onLanguage={turn}
      />
    </LanguageProvider>
  );
}

const wall = document.getElementById('wall');
const root = wall && createRoot(wall);
let shown = 0;

declare global {
  /** Shows what a query asks for, as the address would, and waits until it is drawn with its fonts. */
  var show: (query: string) => Promise<void>;
}
const drawn = () => new Promise<void>((resolve) => { requestAnimationFrame(() => requestAnimationFrame(() => resolve())); });
globalThis.show = async (query) => {
  shown += 1;
  flushSync(() => root?.render(<Page key={shown} search={query} />));
  // Laid out at once; only a font that was asked for by that makes it wait.
  for (let k = 0; k < 3 && document.body.offsetHeight >= 0 && document.fonts.status !== 'loaded'; k += 1) {
    await document.fonts.ready;
    await drawn();
  }
};
void globalThis.show(location.search).then(() => { document.documentElement.dataset.ready = 'true'; });
