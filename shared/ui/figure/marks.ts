/**
 * Owns what a figure is on a page: each shape in the tones of the theme, as attributes of an SVG
 * path; and writing them over a figure that is drawn already, only where they differ.
 *
 * Tones are CSS variables of the surrounding page: --ink (near), --ink-mid
 * (trunk), --ink-far (far), --sash, --plaster, --wood (chair and wall), --mat, --shade, --cut (edges).
 */
import type { SVGProps } from 'react';
import type { Shape, Tone } from '../../movement/draw.ts';

/** How a path is painted; the same object wherever it is painted alike. */
export type Paint = Readonly<Pick<SVGProps<SVGPathElement>, 'fill' | 'stroke' | 'strokeWidth' | 'paintOrder' | 'strokeLinejoin'>>;
/** One path. */
export interface Mark { readonly d: string; readonly paint: Paint }

const CUT = 'var(--cut, #B08D6B)';
const INK = 'var(--ink, #1A120D)';
const fill: Record<Tone, string> = {
  near: INK, mid: 'var(--ink-mid, #2B1E16)', far: 'var(--ink-far, #483427)', face: 'var(--ink-far, #483427)',
  sash: 'var(--sash, #FBF5EA)', prop: 'var(--wood, #E0C49A)', mat: 'var(--mat, #E9D7B9)', shade: 'var(--shade, rgba(26, 18, 13, 0.16))',
};
/** Where paper lies over paper its cut edge catches the light. Props are drawn with a line. */
const edge: Record<Tone, string> = { near: CUT, mid: CUT, far: CUT, face: 'none', sash: INK, prop: INK, mat: 'none', shade: 'none' };
const EDGE_WIDTH = '8';
const LINE_WIDTH = '14';

const tones = Object.keys(fill) as Tone[];
const each = (of: (tone: Tone) => Paint) => Object.fromEntries(tones.map((tone) => [tone, of(tone)])) as Record<Tone, Paint>;
const lies = (tone: Tone) => tone === 'shade' || tone === 'mat';
const cut = each((tone) => ({ fill: fill[tone], stroke: edge[tone], strokeWidth: EDGE_WIDTH, paintOrder: 'stroke', strokeLinejoin: 'round' }));
const root = each((tone) => ({ fill: fill[tone] }));
const outlined = each((tone) => ({
  paintOrder: 'stroke', strokeLinejoin: 'round', fill: lies(tone) ? fill[tone] : tone === 'sash' ? INK : 'var(--plaster, #FBF5EA)',
  stroke: lies(tone) ? 'none' : INK, strokeWidth: LINE_WIDTH,
}));

/** Back to front. @param outline cut out, not filled */
export function marksOf(shapes: readonly Shape[], outline: boolean): Mark[] {
  if (outline) return shapes.map((s) => ({ d: s.d + (s.root ?? ''), paint: outlined[s.tone] }));
  return shapes.flatMap((s) => [
    ...(s.d ? [{ d: s.d, paint: cut[s.tone] }] : []),
    ...(s.root ? [{ d: s.root, paint: root[s.tone] }] : []),
  ]);
}

const SVG = 'http://www.w3.org/2000/svg';
const names: Record<keyof Paint, string> = { fill: 'fill', stroke: 'stroke', strokeWidth: 'stroke-width', paintOrder: 'paint-order', strokeLinejoin: 'stroke-linejoin' };

/**
 * Makes a drawn figure another moment of itself.
 * @param was what is drawn there now, path by path
 */
export function redraw(svg: SVGSVGElement, was: readonly Mark[], is: readonly Mark[]): void {
  for (let k = 0; k < is.length; k += 1) {
    const [before, now] = [was[k], is[k] as Mark];
    const path = (before ? svg.children[k] : svg.appendChild(document.createElementNS(SVG, 'path'))) as SVGPathElement;
    if (before?.paint !== now.paint) {
      for (const [key, name] of Object.entries(names) as [keyof Paint, string][]) {
        const value = now.paint[key];
        if (value === undefined) path.removeAttribute(name);
        else path.setAttribute(name, String(value));
      }
    }
    if (before?.d !== now.d) path.setAttribute('d', now.d);
  }
  for (let k = was.length; k > is.length; k -= 1) svg.lastElementChild?.remove();
}
