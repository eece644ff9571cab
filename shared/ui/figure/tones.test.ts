/** Holds the tones of the figure against the wall and the tide, in both themes. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

const css = readFileSync(new URL('../theme.css', import.meta.url), 'utf8');
const themes = css.split('--plaster:').slice(1).map((part) => `--plaster:${part}`);
const tone = (theme: string, name: string) => new RegExp(`--${name}:\\s*(#[0-9a-f]{6})`).exec(theme)?.[1] ?? `no ${name}`;

/** WCAG 2.2, relative luminance and contrast ratio. */
function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16) / 255)
    .map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
const contrast = (a: string, b: string) => {
  const [x, y] = [luminance(a), luminance(b)];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
};

it('M21 near and far limbs stand out 3:1 from plaster and from clay, by day and in the dim, and from each other', () => {
  expect(themes.length).toBeGreaterThanOrEqual(2);
  for (const t of themes) {
    for (const limb of ['ink', 'ink-mid', 'ink-far']) {
      for (const behind of ['plaster', 'clay']) {
        expect(contrast(tone(t, limb), tone(t, behind)), `${limb} on ${behind} ${tone(t, behind)}`).toBeGreaterThanOrEqual(3);
      }
    }
    expect(contrast(tone(t, 'ink'), tone(t, 'ink-far')), 'near and far').toBeGreaterThanOrEqual(1.4);
    expect(contrast(tone(t, 'ink'), tone(t, 'sash')), 'sash on a near limb').toBeGreaterThanOrEqual(7);
  }
});

it('M35 where paper lies over paper its edge stands out 3:1 from every limb, by day and in the dim', () => {
  for (const t of themes) for (const limb of ['ink', 'ink-mid', 'ink-far']) expect(contrast(tone(t, 'cut'), tone(t, limb)), `edge on ${limb}`).toBeGreaterThanOrEqual(3);
});
