/** Owns that no rule of the coach is missing on its page. */
import { renderToStaticMarkup } from 'react-dom/server';
import { expect, it } from 'vitest';
import { rulesList } from '../../../shared/coach/check.ts';
import RulesPage from './RulesPage.tsx';

const escaped = (text: string): string => text.replaceAll('&', '&amp;').replaceAll("'", '&#x27;').replaceAll('"', '&quot;');

it('P334 every rule of the coach is on its page, under its grade, with its id, reason and source; the one that is named is marked', () => {
  const text = renderToStaticMarkup(<RulesPage named="no-cool-down" />);
  expect(rulesList.length).toBeGreaterThan(25);
  for (const { id, grade, reason, source } of rulesList) {
    const of = text.slice(text.indexOf(`data-grade="${grade}"`)).split('</section>')[0] ?? '';
    const rule = of.slice(of.indexOf(`id="${id}"`)).split('</cite>')[0] ?? '';
    expect(of, id).toContain(`id="${id}"`);
    expect(rule, id).toContain(escaped(reason));
    expect(rule.toLowerCase(), id).toContain(escaped(source).toLowerCase());
  }
  expect(text.match(/aria-current="true"/g)).toHaveLength(1);
  expect(text).toContain('id="no-cool-down" class="rule" aria-current="true"');
});
