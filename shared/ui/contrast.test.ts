/** Holds the tones of theme.css to WCAG 2.2 contrast (relative luminance as it defines it). */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const css = readFileSync(new URL('./theme.css', import.meta.url), 'utf8');
const tonesIn = (selector: string): Map<string, string> => {
  const block = css.slice(css.indexOf(`${selector} {`)).split('}')[0] ?? '';
  return new Map([...block.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map((m) => [m[1] ?? '', m[2] ?? '']));
};
const day = tonesIn(':root');
const dim = tonesIn(":root[data-theme='dim']");
const device = tonesIn(':root:not([data-theme])');

function luminance(tone: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((k) => {
    const c = Number.parseInt(tone.slice(k, k + 2), 16) / 255;
    return c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
const contrast = (a: string, b: string): number => {
  const [hi = 0, lo = 0] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (hi + 0.05) / (lo + 0.05);
};

describe('contrast', () => {
  it('V23 the formula gives what WCAG tools give: #777777 on white 4.478, #595959 7.005', () => {
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.478, 3);
    expect(contrast('#595959', '#ffffff')).toBeCloseTo(7.005, 3);
  });

  it.each([['day', day], ['dim', dim]])('V23 %s: text on plaster 7, on clay 4.5, clay on plaster 3', (_name, tones) => {
    const of = (name: string): string => tones.get(name) ?? 'missing';
    for (const wall of ['plaster', 'plaster-lit', 'plaster-shade', 'plaster-under']) {
      for (const text of ['ink', 'ink-soft']) expect(contrast(of(text), of(wall)), `${text} on ${wall}`).toBeGreaterThanOrEqual(7);
      if (wall !== 'plaster-under') expect(contrast(of('clay'), of(wall)), `clay on ${wall}`).toBeGreaterThanOrEqual(3);
    }
    for (const clay of ['clay', 'clay-wet']) expect(contrast(of('ink'), of(clay)), `ink on ${clay}`).toBeGreaterThanOrEqual(4.5);
  });

  it('V23 a device that asks for dark gets the dim tones', () => {
    expect([...device]).toEqual([...dim]);
  });
});
