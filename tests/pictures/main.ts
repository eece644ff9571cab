/**
 * Owns `npm run pictures`: every state of screen, phone and desk as a picture in
 * .cache/pictures. With `--readme` only the pictures of the README, from the
 * running program, into media/pictures.
 */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';

const root = join(import.meta.dirname, '../..');
const tsx = (script: string, ...args: string[]): void => {
  const { status } = spawnSync(process.execPath, ['--import', 'tsx', join(root, 'tests/pictures', script), ...args], { cwd: root, stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 1);
};
if (process.argv.includes('--readme')) tsx('readme.ts');
else {
  tsx('screen.ts', '', '1920x1080,1280x720,1024x768,1080x1920', 'day,dim');
  tsx('screen.ts', '', '1280x720', 'day', 'inch=75&far=10000');
  tsx('remote.ts');
}
