/**
 * Owns the one page that is taken home: everything in it, nothing fetched. Its policy names
 * its script and its style by what is in them (CSP level 3, hashes), so that no other runs.
 * The page writes itself anew from the same parts when it is saved. Where no script runs at
 * all, as in the preview of a mail, its plans can still be read.
 */
import { asTyped } from '../coach/typed/as-typed.ts';
import { groupWords } from '../coach/groups.ts';
import type { Library } from '../movement/movement.ts';
import { blockOf, type HomeFile } from './file.ts';

export interface Parts {
  readonly script: string;
  readonly style: string;
  /** Of the whole page, with the hashes of both. */
  readonly policy: string;
}
export const SCRIPT_ID = 'home-script';
export const STYLE_ID = 'home-style';

/** @param script base64 of the SHA-256 of the script @param style the same of the style */
export const policyOf = (script: string, style: string): string =>
  `default-src 'none'; script-src 'sha256-${script}'; style-src 'sha256-${style}'; img-src data: blob:; font-src data:; media-src data: blob:; base-uri 'none'; form-action 'none'`;

/** A script as it can stand inside a page: no letter of it ends it, and it reads back letter by letter. */
export const inlineScript = (code: string): string =>
  code.replace(/\r\n?/g, '\n').replace(/<\/(script)/gi, '<\\/$1').replace(/<!--/g, '<\\!--').replace(/\u2028/g, '\\u2028').replace(/\u2029/g, '\\u2029');

const marks: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };
const text = (words: string): string => words.replace(/[&<>"']/g, (c) => marks[c] ?? c);

/** The plans in words, as somebody would write them on a card. */
function inWords(file: HomeFile): string {
  const library: Library = new Map(file.movements.map((m) => [m.id, m]));
  return file.plans.filter((p) => !p.gone).map(({ now, cover }) => {
    const lines = asTyped(now, library).text.split('\n').filter((l) => !/^(name|note): /.test(l));
    return [
      `<section><h2 dir="auto">${text(now.name)}</h2>`,
      now.group === 'general' ? '' : `<p>${text(groupWords[now.group])}</p>`,
      ...[cover, now.forCover, now.note].map((note) => (note ? `<p dir="auto">${text(note)}</p>` : '')),
      `<ul>${lines.map((l) => `<li dir="auto">${text(l)}</li>`).join('')}</ul></section>`,
    ].join('');
  }).join('\n');
}

export const homePage = ({ script, style, policy }: Parts, file: HomeFile): string => `<!doctype html>
<html lang="en" data-home>
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${text(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
<meta name="color-scheme" content="light dark">
<meta name="referrer" content="no-referrer">
<title>${text(file.studio)}, plans at home</title>
<link rel="icon" href="data:,">
<style id="${STYLE_ID}">${style}</style>
</head>
<body>
<div id="root"><main class="desk plain"><h1>${text(file.studio)}: plans at home</h1>
<p>This can be read only. To write and rehearse, open the file in a browser.</p>
${inWords(file)}
</main></div>
${blockOf(file)}
<script id="${SCRIPT_ID}">${script}</script>
</body>
</html>
`;
