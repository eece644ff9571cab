/** Owns starting the screen's page. */
import '../../shared/ui/older/fill.ts';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './App.tsx';
import { keepPage } from './keep-page.ts';

const wall = document.getElementById('wall');
keepPage();
if (wall) createRoot(wall).render(<StrictMode><App path={location.pathname} search={location.search} /></StrictMode>);
