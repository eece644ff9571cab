/**
 * Owns the contact sheet: three moments of every movement side by side, as
 * pictures to look at, in .cache/figures/. `--unnamed` numbers them instead, for
 * eyes that should say what the body does; `--only a,b` draws those, larger.
 * Leaves alone how a figure is solved and drawn (shared/movement).
 */
import { mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { chromium } from '@playwright/test';
import { type Tone, drawFigure, loopMs } from '../../shared/movement/draw.ts';
import { frameOf } from '../../shared/movement/frame.ts';
import { type Movement, movementSchema } from '../../shared/movement/movement.ts';

const out = new URL('../../.cache/figures/', import.meta.url);
const folder = new URL('../movements/', import.meta.url);
const PER_SHEET = 20;
/** Moments of one repetition: near its start, on the way, and where it goes farthest. */
const MOMENTS = [0.04, 0.26, 0.5] as const;

const fill: Record<Tone, string> = { near: '#1A120D', mid: '#2B1E16', far: '#483427', face: '#483427', sash: '#FBF5EA', prop: '#E0C49A', mat: '#E9D7B9', shade: 'rgba(26,18,13,.16)' };
const edge: Record<Tone, string> = { near: '#B08D6B', mid: '#B08D6B', far: '#B08D6B', face: 'none', sash: '#1A120D', prop: '#1A120D', mat: 'none', shade: 'none' };

function svg(m: Movement, share: number, height: number): string {
  const box = frameOf(m, false);
  const repMs = m.sides === 'alternating' ? loopMs(m) / 2 : loopMs(m);
  const shapes = drawFigure(m, { side: m.sides === 'together' ? 'together' : 'right', resting: false, sash: true }, share * repMs);
  const path = (d: string, inside: string, line: string) => `<path d="${d}" fill="${inside}" stroke="${line}" stroke-width="8" paint-order="stroke" stroke-linejoin="round"/>`;
  const paths = shapes.map((s) => (s.d ? path(s.d, fill[s.tone], edge[s.tone]) : '') + (s.root ? path(s.root, fill[s.tone], 'none') : ''));
  return `<svg height="${height}" viewBox="${box.left} ${box.top} ${box.width} ${box.height}">${paths.join('')}</svg>`;
}

function sheet(movements: readonly Movement[], from: number, height: number, named: boolean): string {
  const rows = movements.map((m, i) =>
    `<figure><div>${MOMENTS.map((s) => svg(m, s, height)).join('')}</div><figcaption>${named ? `${m.name} <small>${m.id}</small>` : from + i + 1}</figcaption></figure>`);
  return `<!doctype html><meta charset="utf-8"><style>
    body{margin:12px;background:#FBF5EA;color:#1A120D;font:18px sans-serif;display:flex;flex-wrap:wrap;gap:10px}
    figure{margin:0;border-bottom:3px solid #1A120D}div{display:flex}</style>${rows.join('')}`;
}

const flag = (name: string) => process.argv.indexOf(`--${name}`);
const named = flag('unnamed') < 0;
const only = flag('only') < 0 ? null : (process.argv[flag('only') + 1] ?? '').split(',');
const movements = readdirSync(folder).filter((f) => f.endsWith('.json'))
  .map((f) => movementSchema.parse(JSON.parse(readFileSync(new URL(f, folder), 'utf8'))))
  .filter((m) => !only || only.includes(m.id));

mkdirSync(out, { recursive: true });
const browser = await chromium.launch({
  executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--disable-quic', '--no-first-run'],
});
try {
  const page = await browser.newPage({ viewport: { width: only ? 1500 : 1800, height: 400 } });
  const each = only ? 4 : PER_SHEET;
  for (let i = 0; i < movements.length; i += each) {
    await page.setContent(sheet(movements.slice(i, i + each), i, only ? 320 : 190, named));
    const file = new URL(`sheet-${String(i / each + 1).padStart(2, '0')}${named ? '' : '-unnamed'}.png`, out);
    writeFileSync(file, await page.screenshot({ fullPage: true }));
    process.stdout.write(`${file.pathname}\n`);
  }
} finally {
  await browser.close();
}
