/**
 * Owns the sound of the screen as the room has it: signals where they are wanted, the
 * studio's music if this screen plays it, what a phone asks it to play, and telling the
 * server whether it is heard.
 */
import { useCallback, useEffect, useLayoutEffect, useMemo, useRef } from 'react';
import { newId } from '../../../shared/link/new-id.ts';
import type { Room } from '../../../shared/link/types.ts';
import type { SoundNow, Sounding } from '../../../shared/sound/engine.ts';
import { useSilence } from '../../../shared/sound/use-silence.ts';
import { useSound, type UseSound } from '../../../shared/sound/use-sound.ts';
import type { Language } from '../../../shared/words/language.ts';
import { view } from '../../../shared/view/view.ts';
import { type Hearing, noSound } from '../../../shared/wire/messages/sound.ts';
import { ask } from '../ask.ts';
import type { MusicPlayer } from './music-player.ts';

export function hearingOf({ problem, state, settings }: Pick<SoundNow, 'problem' | 'state' | 'settings'>, wanted: boolean): Hearing {
  if (problem !== null) return 'none';
  if (state === 'locked') return 'locked';
  if (state === 'on') return 'heard';
  return !wanted || settings.volume === 'silent' ? 'silent' : 'none';
}

async function tracks(): Promise<readonly string[]> {
  try {
    return (await ask('/api/music')).tracks.map((t) => t.file);
  } catch {
    return [];
  }
}

/** Quiet while the class stands, and while somebody shows, if the room wants it so. */
function quietIn(room: Room, inShows: boolean): boolean {
  const at = room.now();
  if (!room.session || at === null) return false;
  const v = view(room.session, at);
  return (v.paused !== null && v.moving === null) || (inShows && v.phase === 'watch');
}

/** @param stopped the room was stopped: nothing sounds */
export function useScreenSound(room: Room, stopped: boolean, language: Language): UseSound {
  const about = room.about?.sound ?? noSound;
  const { from, music } = about.wants;
  const name = useMemo(newId, []);
  const wanted = from !== 'phone' || (music.on && about.hasMusic);
  const player = useRef<MusicPlayer | null>(null);
  const planned = useCallback((sounds: readonly Sounding[]) => player.current?.planned(sounds), []);
  const sound = useSound(room, room.about?.room.pattern ?? null, { wanted, signals: from !== 'phone' && !stopped, planned, language });
  useSilence(stopped);
  useLayoutEffect(() => player.current?.cut(stopped), [stopped]);
  const hearing = hearingOf(sound, wanted);
  const latest = useRef({ room, about, stopped, sound });
  latest.current = { room, about, stopped, sound };

  const { link } = room;
  const live = link.state === 'live' ? link.since : null;
  // Said anew with every connection: the server knows it by the connection only.
  useEffect(() => { if (live !== null) void latest.current.room.sound({ do: 'hears', what: hearing, name }); }, [live, hearing, name]);

  const { onPlay } = room;
  useEffect(() => onPlay((play) => {
    if (play.do === 'skip') player.current?.skip();
    else if (!latest.current.stopped) void latest.current.sound.test(play.kind);
  }), [onPlay]);

  const ready = sound.state === 'on';
  useEffect(() => {
    if (!ready) return;
    let gone = false;
    void import('./music-here.ts').then(({ musicHere }) => {
      if (gone) return;
      player.current = musicHere({
        wants: () => latest.current.about.wants.music,
        plays: () => latest.current.about.wants.music.on && latest.current.about.player === name,
        quiet: () => latest.current.stopped || quietIn(latest.current.room, latest.current.about.wants.music.quietInShows),
        tracks,
        playing: (file) => { void latest.current.room.sound({ do: 'playing', title: file === null ? null : file.replace(/\.[^.]+$/, '') }); },
        broken: (file) => { void latest.current.room.sound({ do: 'broken', file }); },
      });
      player.current?.cut(latest.current.stopped);
    }).catch(() => undefined);
    return () => {
      gone = true;
      player.current?.close();
      player.current = null;
    };
  }, [ready, name]);
  return sound;
}
