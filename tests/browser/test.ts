/** Owns what every browser test begins with: Playwright's own, and that no page outlives its test and slows down the ones after it. */
import { test as base } from '@playwright/test';

export { expect } from '@playwright/test';

export const test = base.extend<{ readonly nothingLeftOpen: undefined }>({
  nothingLeftOpen: [async ({ browser }, use) => {
    const before = new Set(browser.contexts());
    await use(undefined);
    for (const context of browser.contexts()) if (!before.has(context)) await context.close();
  }, { auto: true }],
});
