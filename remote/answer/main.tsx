/** Owns starting the page of the one question; the class stands in the address. Nothing is kept on the phone. */
import '../../shared/ui/older/fill.ts';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import '../common/base.css';
import './answer.css';
import { AnswerPage } from './AnswerPage.tsx';

const root = document.getElementById('root');
const id = decodeURIComponent(/^\/answer\/([^/]+)/.exec(window.location.pathname)?.[1] ?? '');
if (root) createRoot(root).render(<StrictMode><AnswerPage id={id} /></StrictMode>);
