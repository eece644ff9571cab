/** Owns starting the desk's page: one class of the log if the address names it, else the list and the plans. */
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import '../common/base.css';
import './desk.css';
import { ClassPage } from './ClassPage.tsx';
import { Home } from './Home.tsx';

const root = document.getElementById('root');
const id = new URL(window.location.href).searchParams.get('class');
if (root) createRoot(root).render(<StrictMode>{id === null ? <Home /> : <ClassPage id={id} />}</StrictMode>);
