/** Owns starting the phone's page. */
import '../../shared/ui/older/fill.ts';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import '../common/base.css';
import './phone.css';
import './class/class.css';
import './head/head.css';
import './door/door.css';
import './stop/stop.css';
import { App } from './App.tsx';
import { takeCode } from './pairing/pairing.ts';

const root = document.getElementById('root');
const code = takeCode();
if (root) createRoot(root).render(<StrictMode><App code={code} /></StrictMode>);
