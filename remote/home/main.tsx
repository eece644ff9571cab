/**
 * Owns starting the page that was taken home: reads the plans in it and what this browser
 * kept of them, puts the studio in the page in the place of the server, and shows it.
 */
import '../../shared/ui/older/fill.ts';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import '../common/base.css';
import '../desk/desk.css';
import './home.css';
import { deviceClock } from '../../shared/link/device-clock.ts';
import { soundsFrom } from '../../shared/sound/sprite.ts';
import { goBy } from '../common/at-home.ts';
import { answerBy, soundAt } from './answers.ts';
import { Home } from './Home.tsx';
import { readThis } from './keep.ts';
import { openHome } from './open.ts';
import { followLinks, goTo } from './way.ts';

const root = document.getElementById('root');
const file = readThis();
if (root && 'refused' in file) createRoot(root).render(<main className="desk"><p className="sentence" role="alert">This file cannot be opened. {file.refused}</p></main>);
else if (root && !('refused' in file)) {
  const home = openHome(file, deviceClock);
  answerBy(home.studio);
  soundsFrom(soundAt);
  goBy(goTo);
  followLinks(home.studio);
  createRoot(root).render(<StrictMode><Home home={home} /></StrictMode>);
}
