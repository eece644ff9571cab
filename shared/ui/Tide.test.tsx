/** Holds the tide: the body is a mirror, so left is left. */
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { Tide, type TideProps } from './Tide.tsx';

const drawn = (tide: TideProps['view']['tide']): [string | undefined, string | undefined, boolean][] => {
  const markup = renderToStaticMarkup(<Tide view={{ tide, share: 0.5, paused: null, closing: false, phase: 'work' }} />);
  return [...markup.matchAll(/data-side="(\w+)"><div class="tide-clay" data-half="(\w+)"( data-waits="true")?/g)].map((m) => [m[1], m[2], m[3] !== undefined]);
};

describe('tide', () => {
  it('V24 the half that works is on its own side of the screen, and the one that waits stays full beside it', () => {
    expect(drawn({ left: 'solid', right: 'outline' })).toEqual([['left', 'solid', false], ['right', 'outline', true]]);
    expect(drawn({ left: 'outline', right: 'solid' })).toEqual([['left', 'outline', true], ['right', 'solid', false]]);
    expect(drawn({ left: 'none', right: 'solid' })).toEqual([['right', 'solid', false]]);
  });

  it('V24 work of both sides is one piece of clay, and watching has none', () => {
    expect(drawn({ left: 'solid', right: 'solid' })).toEqual([['both', 'solid', false]]);
    expect(drawn({ left: 'none', right: 'none' })).toEqual([]);
  });
});
