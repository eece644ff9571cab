/** Holds the file that is taken home: nothing in it becomes a tag, it reads back as it was, and hostile ones are refused; what a plan that comes back is. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compare, together, wentOn } from '../../shared/home/compare.ts';
import { asSaved, type HomeFile, homeFileSchema, homePlanSchema, readHome, safeJson } from '../../shared/home/file.ts';
import { homePage, inlineScript, policyOf } from '../../shared/home/page.ts';
import { planSchema } from '../../shared/plan/plan.ts';
import { library } from '../coach/library.ts';

const plan = planSchema.parse({ format: 1, id: 'p', name: 'P', sections: [{ id: 'a', kind: 'main', work: 40, items: [{ movement: 'squat' }] }] });
const file = (over: object = {}): HomeFile => homeFileSchema.parse({
  kind: 'hallclock-at-home', format: 1, id: '00000000-0000-4000-8000-000000000001', studio: 'Quince Yard Studio', timeZone: 'UTC', takenAt: 1, savedAt: null,
  plans: [{ now: plan, base: plan, revision: null }], movements: [...library.values()].slice(0, 3), ...over,
});
const parts = { script: inlineScript('run("</script>", "<!--", /<\\/script>/);\r\n'), style: 'b{}', policy: policyOf('AAA=', 'BBB=') };
const words = fc.oneof(fc.string({ unit: 'binary', minLength: 1, maxLength: 60 }), fc.constantFrom('</script><script>x', '<!--<script>', ']]></SCRIPT >', '“<b>&amp;\u2028"\'', '<img src=x onerror=y>')).filter((w) => w.trim() !== '');
const refused = (text: string): string => { const got = readHome(text); return 'refused' in got ? got.refused : 'it was read'; };

describe('the file', () => {
  it('P321 whatever a name or a note says, it is no tag and no script of the page, and reads back as it was', () => {
    fc.assert(fc.property(words, words, words, (name, note, studio) => {
      const named = planSchema.safeParse({ ...plan, name, note });
      if (!named.success) return;
      const before = file({ studio, plans: [{ now: named.data, base: plan, revision: null }] });
      const page = homePage(parts, before);
      expect(page.match(/<\/?(?:script|img|b)\b|<!--/gi)).toEqual(['<script', '</script', '<script', '</script']);
      expect(readHome(page)).toEqual({ file: before });
    }), { numRuns: 400 });
  });

  it('P321 the script inside a page is the same script', () => {
    expect(parts.script).not.toMatch(/<\/script|<!--|\r/i);
    const made: string[] = [];
    new Function('run', parts.script)((...said: unknown[]) => made.push(...said.map(String)));
    expect(made).toEqual(['</script>', '<!--', '/<\\/script>/']);
    expect(safeJson({ a: '</script>&\u2028' })).toBe('{"a":"\\u003c/script\\u003e\\u0026\\u2028"}');
  });

  const block = (json: string): string => `<p>hello</p><script type="application/json" id="hallclock-at-home">${json}</script>`;
  it.each<[string, string, string]>([
    ['nothing', '', 'no file that was taken home'],
    ['another page', '<!doctype html><script>alert(1)</script>', 'no file that was taken home'],
    ['a plan alone', JSON.stringify(plan), 'a single plan comes in under “From a file”'],
    ['a half file', homePage(parts, file()).slice(0, 3_000), 'breaks off'],
    ['a damaged one', block('{"kind":'), 'damaged or changed'],
    ['a newer one', block(JSON.stringify({ ...file(), format: 9 })), 'written by a newer Hallclock'],
    ['more fields than it has', block(JSON.stringify({ ...file(), run: 'me' })), '"run" is no field'],
    ['a plan that is none', block(JSON.stringify({ ...file(), plans: [{ now: { ...plan, name: '' }, base: null, revision: null, gone: false }] })), 'At plans 1, now, name'],
    ['one plan twice', block(JSON.stringify({ ...file(), plans: [...file().plans, ...file().plans] })), 'is there twice'],
    ['a picture from elsewhere', block(JSON.stringify({ ...file(), pictures: { 'x.png': 'https://example.org/x.png' } })), 'a picture is a data address'],
    ['a prototype', block('{"kind":"hallclock-at-home","format":1,"__proto__":{"studio":"x"}}'), 'At '],
    ['a very deep one', block('['.repeat(200_000)), 'damaged or changed'],
  ])('P321 refused with a sentence: %s', (_what, text, sentence) => {
    expect(refused(text)).toContain(sentence);
    expect(({} as { studio?: string }).studio).toBeUndefined();
  });

  it('P322 what was written alone, without the movements, is read as well', () => {
    const small = file({ movements: [], savedAt: 5 });
    expect(readHome(safeJson(small))).toEqual({ file: small });
  });

  it('P321 without a script its plans can be read, as on a card', () => {
    const page = homePage(parts, file());
    expect(page).toMatch(/<h2 dir="auto">P<\/h2>[\s\S]*<li dir="auto">main work 40 s: .*<\/li>/i);
  });
});

describe('what comes back', () => {
  const other = planSchema.parse({ ...plan, name: 'Q' });
  const home = (over: object) => ({ now: plan, base: plan, revision: null, gone: false, saves: [], ...over });
  it('P323 tells each case apart', () => {
    expect([
      compare(home({}), plan), compare(home({}), other), compare(home({ now: other }), plan), compare(home({ now: other }), planSchema.parse({ ...plan, note: 'x' })),
      compare(home({ now: other }), other), compare(home({ now: other }), null), compare(home({}), null), compare(home({ base: null }), null), compare(home({ base: null }), other),
      compare(home({ gone: true }), plan), compare(home({ gone: true }), null),
    ].map((c) => c.is)).toEqual([
      'alike', 'changed here', 'changed at home', 'changed at both', 'alike', 'put away here', 'alike', 'new', 'new beside', 'put away at home', 'alike',
    ]);
  });

  it('P343 a plan that was brought back before goes on from there: nothing is asked twice, and one begun at home becomes no second', () => {
    const [first, second] = [planSchema.parse({ ...plan, name: 'First' }), planSchema.parse({ ...plan, name: 'Second' })];
    // Begun at home, saved and brought, changed at home, saved again.
    const begun = asSaved({ ...asSaved(homePlanSchema.parse({ now: first, base: null, revision: null })), now: second });
    expect(begun.saves).toEqual([second, first]);
    expect(compare(begun, first).is).toBe('new beside');
    expect(wentOn(begun, 'p', first)).toMatchObject({ base: first });
    expect(compare(wentOn(begun, 'p', first) ?? begun, first)).toMatchObject({ is: 'changed at home' });
    // It came in beside another plan.
    const beside = wentOn(begun, 'p-2', { ...first, id: 'p-2' });
    expect(beside && [beside.now.id, beside.base?.id, compare(beside, { ...first, id: 'p-2' }).is]).toEqual(['p-2', 'p-2', 'changed at home']);
    // Taken, brought, and the same thing changed again at home, while the desk changed another.
    const taken = asSaved({ ...asSaved(homePlanSchema.parse({ now: first, base: plan, revision: null })), now: second });
    const here = planSchema.parse({ ...first, note: 'here' });
    const from = wentOn(taken, 'p', first) ?? taken;
    const came = compare(from, here);
    expect(came.is === 'changed at both' && together(came, from, {})).toMatchObject({ conflicts: [], plan: { name: 'Second', note: 'here' } });
    const without = compare(taken, here);
    expect(without.is === 'changed at both' && together(without, taken, {}).conflicts.map((c) => c.at)).toEqual(['name']);
    // Nothing that was never saved is taken for it, and what was not changed is not saved as changed.
    expect(wentOn(taken, 'p', here)).toBe(null);
    expect(asSaved(home({})).saves).toEqual([]);
  });
});
