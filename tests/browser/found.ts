/** Owns asking axe (the rules for WCAG 2.0 to 2.2, A and AA) about a page; its source has to be in the page. */
import type { Page } from '@playwright/test';
import type axe from 'axe-core';

const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

/** What axe finds, a line for each element. */
export const found = (page: Page, withContrast: boolean): Promise<string[]> => page.evaluate(async ({ rules, contrast }) => {
  const { axe: run } = globalThis as unknown as { axe: typeof axe };
  const { violations } = await run.run(document, { runOnly: rules, resultTypes: ['violations'], rules: { 'color-contrast': { enabled: contrast } } });
  return violations.flatMap((v) => v.nodes.map((n) => `${v.id}: ${v.help}: ${n.html.slice(0, 120)}`));
}, { rules: RULES, contrast: withContrast });
