/** Owns the studio's music over HTTP: the list, and each file as what it is, in pieces where a browser asks so (RFC 9110 section 14). */
import { type NextFunction, type Request, type Response, Router } from 'express';
import type { MusicBody } from '../../shared/wire/messages/sound.ts';
import type { Music } from './music.ts';

export function musicRoutes(music: Music): Router {
  const router = Router();
  router.get('/api/music', async (_request: Request, response: Response) => {
    response.json({ tracks: (await music.tracks()).map(({ file, title }) => ({ file, title })) } satisfies MusicBody);
  });
  router.get('/music/:file', async (request: Request, response: Response, next: NextFunction) => {
    const found = await music.find(String(request.params.file));
    if (!found) return next();
    response.type(found.track.type);
    response.set('X-Content-Type-Options', 'nosniff');
    // The name comes from the folder itself, and Express answers ranges.
    response.sendFile(found.track.file, { root: music.folder, dotfiles: 'deny', maxAge: '1h' }, (error?: Error & { status?: number; headers?: Record<string, string> }) => {
      if (!error || response.headersSent) return;
      if (error.status === 416) response.status(416).set(error.headers ?? {}).end();
      else next();
    });
  });
  return router;
}
