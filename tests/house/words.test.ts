/** Holds that nothing is said to a room outside the catalogue: reads the screen's sources as the compiler does. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseSync } from 'vite';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '../..');
/** What draws a screen. shared/ui also draws for phone and desk, and asks for a language all the same. */
const folders = ['display/src', 'remote/answer', 'shared/ui/wall', 'shared/ui/figure', 'shared/sound'];
const own = ['shared/ui/DoorPicture.tsx', 'shared/ui/Floor.tsx', 'shared/ui/Tide.tsx', 'shared/ui/Edge.tsx'];
const filesIn = (folder: string): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).filter((f) => /\.tsx?$/.test(f) && !/\.test\./.test(f)).map((f) => join(folder, f));

type Node = { readonly type: string; readonly [key: string]: unknown };
const isNode = (x: unknown): x is Node => typeof x === 'object' && x !== null && typeof (x as Node).type === 'string';
const childrenOf = (node: Node): Node[] => Object.values(node).flatMap((v) => (Array.isArray(v) ? v : [v])).filter(isNode);

/** Attributes that somebody reads or hears. */
const SAID = new Set(['aria-label', 'title', 'alt', 'placeholder', 'text', 'label', 'name', 'aria-valuetext', 'aria-description']);
/** Two words and more with a capital or a full stop, or a question: a sentence, wherever it stands. */
const SENTENCE = /^[A-Z][a-z]+(,? [a-z]+)+|[a-z]{2}[.?!]$/;
/** Letters in a row, but for an address and the name of a character. */
const hasWords = (text: string): boolean => /\p{L}{2,}/u.test(text.replace(/&\w+;/g, '').replace(/\S*\/\S*/g, ''));

const textOf = (node: Node): string =>
  node.type === 'TemplateLiteral' ? (node.quasis as { value: { cooked: string } }[]).map((q) => q.value.cooked).join('7')
    : node.type === 'Literal' && typeof node.value === 'string' ? node.value : '';

/** @returns what these sources say by themselves */
function saidIn(source: string, file: string): string[] {
  const found: string[] = [];
  const look = (node: Node, inError: boolean): void => {
    // What is thrown is for whoever mends it, and is never shown as it is.
    const error = inError || (node.type === 'NewExpression' && isNode(node.callee) && /Error$/.test(String(node.callee.name)));
    if (node.type === 'JSXText' && hasWords(String(node.value))) found.push(String(node.value).trim());
    if (node.type === 'JSXAttribute' && isNode(node.name) && isNode(node.value) && SAID.has(String(node.name.name))) {
      const value = node.value.type === 'JSXExpressionContainer' && isNode(node.value.expression) ? node.value.expression : node.value;
      if (hasWords(textOf(value))) found.push(textOf(value));
    } else if (!error && (node.type === 'Literal' || node.type === 'TemplateLiteral') && SENTENCE.test(textOf(node))) found.push(textOf(node));
    for (const child of childrenOf(node)) look(child, error);
  };
  look(parseSync(file, source).program as unknown as Node, false);
  return [...new Set(found)];
}

describe('the words of the house', () => {
  it('V433 nothing that draws or sounds a screen has words of its own: all are in the catalogue', () => {
    const files = [...folders.flatMap(filesIn), ...own];
    expect(files.length).toBeGreaterThan(60);
    expect(files.flatMap((f) => saidIn(readFileSync(join(root, f), 'utf8'), f).map((said) => `${f}: ${said}`))).toEqual([]);
  });

  it('V433 words in elements, in what is read aloud and in sentences are found', () => {
    // biome-ignore lint/suspicious/noTemplateCurlyInString: it is source to be read
    const source = 'export const A = ({ n }: { n: number }) => <p aria-label="Sound"><Fit text={`${n} laps`} />Go on{n > 1 ? \'Please wait here\' : \'all-fours\'}</p>; throw new Error(`the plan answered ${1}`);';
    expect(saidIn(source, 'a.tsx').sort()).toEqual(['7 laps', 'Go on', 'Please wait here', 'Sound']);
  });
});
