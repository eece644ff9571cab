/**
 * Owns the pictures that a phone puts on its home screen: one side full of clay, the other an outline, a floor
 * with its notch. Drawn here and made into PNG by a Chromium: `npx tsx media/icons/main.ts`.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from '@playwright/test';

const to = join(import.meta.dirname, '../../remote/public/icons');
/** @param safe how much of the side is left free: systems cut icons round (W3C manifest, "maskable": a circle of 40 % radius is kept) */
const drawing = (safe: number): string => {
  const [a, w] = [512 * safe, 512 * (1 - 2 * safe)];
  const at = (share: number) => a + w * share;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 512 512">
    <rect width="512" height="512" fill="#fbf5ea"/>
    <rect x="${at(0.04)}" y="${at(0.1)}" width="${w * 0.44}" height="${w * 0.62}" fill="none" stroke="#c76b45" stroke-width="${w * 0.05}"/>
    <rect x="${at(0.5)}" y="${at(0.28)}" width="${w * 0.48}" height="${w * 0.465}" fill="#c76b45"/>
    <rect x="${at(0)}" y="${at(0.72)}" width="${w}" height="${w * 0.13}" fill="#dfc394"/>
    <rect x="${at(0)}" y="${at(0.72)}" width="${w * 0.5}" height="${w * 0.13}" fill="#7a5233"/>
    <rect x="${at(0)}" y="${at(0.705)}" width="${w}" height="${w * 0.035}" fill="#1a120d"/>
    <path d="M${at(0.5)} ${at(0.86)}l${w * 0.07} ${w * 0.1}h${-w * 0.14}z" fill="#1a120d"/>
    <rect x="${at(0.488)}" y="${at(0.705)}" width="${w * 0.024}" height="${w * 0.16}" fill="#1a120d"/>
  </svg>`;
};

mkdirSync(to, { recursive: true });
const browser = await chromium.launch({ executablePath: process.env.HALLCLOCK_CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox'] });
for (const [name, size, safe] of [['192', 192, 0.08], ['512', 512, 0.08], ['512-round', 512, 0.2], ['180', 180, 0.1]] as const) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(`<body style="margin:0">${drawing(safe)}</body>`);
  await page.screenshot({ path: join(to, `${name}.png`) });
  await page.close();
}
await browser.close();
