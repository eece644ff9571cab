/** Holds what is filled in for older browsers to the real thing of this one, and the older styles to examples. */
import fc from 'fast-check';
import postcss from 'postcss';
import { describe, expect, it } from 'vitest';
import { firstColour, forOlderScreens, lengths } from './css.ts';
import { fills } from './fill.ts';

const css = (text: string) => postcss([forOlderScreens()]).process(text, { from: undefined }).css.replace(/\s+/g, ' ').replace(/([{}])(?=\S)/g, '$1 ');

describe('older browsers', () => {
  it('V455 what is filled in does what this browser does by itself', () => {
    const list = fc.array(fc.integer({ min: -9, max: 9 }));
    const index = fc.oneof(fc.integer({ min: -12, max: 12 }), fc.double(), fc.constant(undefined));
    fc.assert(fc.property(list, index, fc.string(), (a, k, text) => {
      expect(fills.at.call(a, k as number)).toBe(a.at(k as number));
      expect(fills.at.call(text, k as number)).toBe(text.at(k as number));
      const even = (n: unknown) => Number(n) % 2 === 0;
      expect(fills.findLast.call(a, even)).toBe(a.findLast(even));
      expect(fills.findLastIndex.call(a, even)).toBe(a.findLastIndex(even));
      expect(fills.toSorted.call(a, (x, y) => Number(x) - Number(y))).toEqual(a.toSorted((x, y) => x - y));
      expect(fills.toReversed.call(a)).toEqual(a.toReversed());
    }));
    fc.assert(fc.property(fc.string(), fc.string({ maxLength: 2 }), fc.string(), (text, what, by) => {
      expect(fills.replaceAll.call(text, what, () => by)).toBe(text.replaceAll(what, () => by));
      expect(fills.hasOwn({ [what]: 1 }, by)).toBe(Object.hasOwn({ [what]: 1 }, by));
    }));
    expect(fills.replaceAll.call('a.b.c', '.', '$&-')).toBe('a.b.c'.replaceAll('.', '$&-'));
  });

  it('V456 a style that is newer than 2019 gets an older one beside it, and is itself kept', () => {
    expect(css('.a { display: flex; gap: 2px }')).toContain('[data-no-gap] .a > * + * { margin-inline-start: 2px }');
    expect(css('.a { display: flex; flex-direction: column; gap: 2px 9px }')).toContain('[data-no-gap] .a > * + * { margin-top: 2px }');
    expect(css('.a { display: flex; flex-wrap: wrap; gap: 2px 9px }')).toContain('[data-no-gap] .a > * { margin-inline-end: 9px; margin-bottom: 2px }');
    expect(css('.a { display: flex } [x] .a { flex-direction: column; gap: 1px }')).toContain('[data-no-gap] [x] .a > * + * { margin-top: 1px; margin-inline-start: 0 }');
    expect(css('.a { display: grid; gap: 2px }')).not.toContain('data-no-gap');
    expect(css('.a { inset: 1px 2px calc(3px * 2) }')).toBe('.a { top: 1px; right: 2px; bottom: calc(3px * 2); left: 2px }');
    expect(css('.a { margin-block: 1px }')).toBe('.a { margin-top: 1px; margin-bottom: 1px }');
    expect(css('.a { translate: -50% 0 }')).toContain('@supports not (translate: 0) { .a { transform: translate(-50%, 0) } }');
    expect(css('.a { height: calc(100dvh - var(--x)) }')).toBe('.a { height: calc(100vh - var(--x)) } @supports (height: 1dvh) { .a { height: calc(100dvh - var(--x)) } }');
    expect(css('.a { height: 9px; height: 3dvh }')).toBe('.a { height: 9px; height: 3dvh }');
    expect(firstColour('1px solid color-mix(in srgb, var(--ink) 20%, transparent)')).toBe('1px solid var(--ink)');
    expect(lengths('2px calc(2 * var(--u))')).toEqual(['2px', 'calc(2 * var(--u))']);
  });
});
