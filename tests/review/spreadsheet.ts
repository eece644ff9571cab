/**
 * Owns opening tables in a real spreadsheet: LibreOffice without a window reads the CSV and writes what it
 * took each cell for (OpenDocument 1.3, part 3, section 19). Leaves alone what should stand there.
 */
import { execFile, execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { XMLParser } from 'fast-xml-parser';

/** What a cell was taken for; a formula would be one that the spreadsheet runs. */
export interface Opened { readonly type: string | null; readonly value: string | number | null; readonly formula: boolean }

type Node = Readonly<Record<string, unknown>> & { readonly ':@'?: Readonly<Record<string, string>> };
const children = (node: Node, name: string): readonly Node[] => (node[name] as readonly Node[] | undefined) ?? [];
const named = (nodes: readonly Node[], name: string): readonly Node[] => nodes.filter((n) => name in n);

/** The version, "LibreOffice 7.4.7.2"; null where it is not installed. */
export function installed(): string | null {
  try {
    return execFileSync('soffice', ['--version'], { encoding: 'utf8', timeout: 120_000, stdio: ['ignore', 'pipe', 'ignore'] }).trim();
  } catch {
    return null;
  }
}

/** Comma (44), double quotes (34), UTF-8 (76), from the first line on, English of the US: the choices of its own form for opening. */
const AS_CSV = 'Text - txt - csv (StarCalc):44,34,76,1,,1033';

/** Rows of each file, empty ends left off. @param files whose names differ */
export async function open(files: readonly string[]): Promise<Opened[][][]> {
  const folder = mkdtempSync(join(tmpdir(), 'hallclock-sheets-'));
  await promisify(execFile)('soffice', [
    `-env:UserInstallation=${pathToFileURL(join(folder, 'profile')).href}`, '--headless', '--norestore', `--infilter=${AS_CSV}`, '--convert-to', 'fods', '--outdir', folder, ...files,
  ], { timeout: 240_000 });
  return files.map((file) => rowsOf(readFileSync(join(folder, basename(file).replace(/\.csv$/, '.fods')), 'utf8')));
}

function rowsOf(text: string): Opened[][] {
  const parsed = new XMLParser({ preserveOrder: true, ignoreAttributes: false, attributeNamePrefix: '', parseTagValue: false, trimValues: false }).parse(text) as Node[];
  const down = (nodes: readonly Node[], [name, ...rest]: readonly string[]): readonly Node[] => {
    if (name === undefined) return nodes;
    return named(nodes, name).flatMap((n) => down(children(n, name), rest));
  };
  const table = down(parsed, ['office:document', 'office:body', 'office:spreadsheet', 'table:table']);
  const rows = named(table, 'table:table-row').flatMap((row) => {
    const cells = named(children(row, 'table:table-row'), 'table:table-cell').flatMap((cell) => Array<Opened>(Number(cell[':@']?.['table:number-columns-repeated'] ?? 1)).fill(openedOf(cell)));
    return Array<Opened[]>(Math.min(9, Number(row[':@']?.['table:number-rows-repeated'] ?? 1))).fill(cells);
  });
  while (rows.at(-1)?.every((c) => c.type === null)) rows.pop();
  return rows;
}

function openedOf(cell: Node): Opened {
  const about = cell[':@'] ?? {};
  const type = about['office:value-type'] ?? null;
  const text = named(children(cell, 'table:table-cell'), 'text:p').map((p) => wordsOf(children(p, 'text:p'))).join('\n');
  return { type, value: type === null ? null : type === 'string' ? text : Number(about['office:value']), formula: 'table:formula' in about };
}

/** Runs of blanks and tabs are marks of their own. */
function wordsOf(nodes: readonly Node[]): string {
  return nodes.map((n) => {
    if ('#text' in n) return String(n['#text']);
    if ('text:s' in n) return ' '.repeat(Number(n[':@']?.['text:c'] ?? 1));
    if ('text:tab' in n) return '\t';
    return wordsOf(Object.values(n).flatMap((v) => (Array.isArray(v) ? (v as Node[]) : [])));
  }).join('');
}
