/** Owns starting the page of movements: all of them to choose from, or the form for one of the studio's own. */
import '../../shared/ui/older/fill.ts';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import '../common/base.css';
import '../desk/desk.css';
import './movements.css';
import { Choose } from './Choose.tsx';
import { NewPage } from './NewPage.tsx';

const root = document.getElementById('root');
const isNew = window.location.pathname === '/movements/new';
if (root) createRoot(root).render(<StrictMode>{isNew ? <NewPage /> : <Choose />}</StrictMode>);
