/** Takes a real screen off the network and puts it back: browsers hold back the sockets of a page that saw many of them fail. */
import { device, live } from '../server/serve.ts';
import { studio } from './studio.ts';
import { expect, test } from './test.ts';

test('W8 a screen in a real browser comes back at once after ten seconds without the network', async ({ browser }) => {
  const hall = await studio([]);
  await hall.start();
  const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
  const screen = await context.newPage();
  await screen.goto(`${hall.url}/screen`);
  const desk = device(hall.url, 'desk');
  await desk.until((r) => live(r) && r.about?.present.screens === 1, 'the screen');
  await context.setOffline(true);
  await expect(screen.getByText('No connection to the server')).toBeVisible({ timeout: 30_000 });
  await screen.waitForTimeout(9_000);
  await context.setOffline(false);
  // Half a second on a quiet machine; without asking by requests it took longer than this, or for ever.
  await expect(screen.getByText('No connection to the server')).toBeHidden({ timeout: 3_000 });
  desk.close();
  await hall.close();
});
