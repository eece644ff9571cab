/** Holds the music under the signals, its order, the buzz, and what phone and screen say of sound. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { corners, DUCK_DB, dbAt, FALL_MS, HOLD_MS, onto, RISE_MS, type Sounding, withPlanned } from '../../display/src/sound/ducks.ts';
import { gainOfStep } from '../../display/src/sound/music-player.ts';
import { newPlaylist, nextTrack } from '../../display/src/sound/playlist.ts';
import { hearingOf } from '../../display/src/sound/use-screen-sound.ts';
import { contourOf, rhythmOf, score, type Sound } from '../../media/sounds/score.ts';
import { screenTrouble, soundWords } from '../../remote/phone/sound/sound-words.ts';
import { buzzes } from '../../shared/sound/buzz.ts';
import { defaults } from '../../shared/sound/settings.ts';
import { signalKinds } from '../../shared/view/signal-kinds.ts';
import { MUSIC_STEPS, noSound } from '../../shared/wire/messages/sound.ts';

const sounds = fc.array(fc.tuple(fc.integer({ min: 0, max: 60_000 }), fc.integer({ min: 100, max: 1_900 })), { maxLength: 20 })
  .map((list): Sounding[] => list.map(([fromMs, ms]) => ({ fromMs, toMs: fromMs + ms })));

describe('music under signals', () => {
  it('C21 the music is down by 15 dB from the beginning to the end of every signal, up where none is near, and never faster than it falls', () => {
    expect(DUCK_DB).toBe(-15);
    fc.assert(fc.property(sounds, (list) => {
      const points = corners(list);
      for (const { fromMs, toMs } of list) for (const at of [fromMs, (fromMs + toMs) / 2, toMs, toMs + HOLD_MS]) expect(dbAt(points, at)).toBeCloseTo(DUCK_DB, 9);
      for (let at = -1_000; at < 65_000; at += 130) {
        const db = dbAt(points, at);
        expect(db).toBeLessThanOrEqual(0);
        expect(Math.abs(db - dbAt(points, at - 10))).toBeLessThanOrEqual((10 * -DUCK_DB) / FALL_MS + 1e-9);
        if (list.every((s) => at < s.fromMs - 4_000 || at > s.toMs + 4_000)) expect(db).toBe(0);
      }
      for (let i = 1; i < points.length; i += 1) expect((points[i]?.[0] ?? 0) >= (points[i - 1]?.[0] ?? 0)).toBe(true);
    }), { numRuns: 25 });
  });

  it('C21 it does not pump: a count of three and its go are one fall and one rise', () => {
    const count = [0, 1_000, 2_000, 3_000].map((t) => ({ fromMs: t + 10_000, toMs: t + 10_200 }));
    expect(corners(count)).toEqual([[10_000 - FALL_MS, 0], [10_000, DUCK_DB], [13_200 + HOLD_MS, DUCK_DB], [13_200 + HOLD_MS + RISE_MS, 0]]);
    expect(corners([{ fromMs: 0, toMs: 200 }, { fromMs: 9_000, toMs: 9_200 }])).toHaveLength(8);
  });

  it('C21 a signal that comes or goes at once makes no jump, and what sounds still counts', () => {
    fc.assert(fc.property(sounds, sounds, fc.integer({ min: 0, max: 60_000 }), (before, after, nowMs) => {
      const old = corners(before);
      const way = onto(old, corners(after), nowMs);
      expect(way[0]).toEqual([nowMs, dbAt(old, nowMs)]);
      expect(dbAt(way, nowMs + 100)).toBeCloseTo(dbAt(corners(after), nowMs + 100), 9);
    }));
    const going = { fromMs: 1_000, toMs: 1_500 };
    expect(withPlanned([going, { fromMs: 3_000, toMs: 3_500 }], [], 1_200)).toEqual([going]);
    expect(withPlanned([going], [{ fromMs: 1_003, toMs: 1_503 }], 1_200)).toEqual([{ fromMs: 1_003, toMs: 1_503 }]);
    expect(withPlanned([going], [], 9_000)).toEqual([]);
  });

  it('C22 shuffled, all are heard before one comes again and none twice running; in order, the order; nothing that is not there', () => {
    const tracks = ['a', 'b', 'c', 'd', 'e'];
    fc.assert(fc.property(fc.infiniteStream(fc.double({ min: 0, max: 0.999, noNaN: true })), (chances) => {
      const chance = () => chances.next().value ?? 0;
      let playlist = newPlaylist;
      const heard: string[] = [];
      for (let n = 0; n < 25; n += 1) {
        const step = nextTrack(playlist, tracks, 'shuffled', chance);
        playlist = step.playlist;
        heard.push(step.track ?? '');
      }
      for (let n = 0; n < 25; n += 5) expect([...heard.slice(n, n + 5)].sort()).toEqual(tracks);
      expect(heard.filter((t, i) => t === heard[i - 1])).toEqual([]);
    }));
    let fixed = newPlaylist;
    const order = Array.from({ length: 4 }, () => {
      const step = nextTrack(fixed, ['a', 'b', 'c'], 'fixed', () => 0);
      fixed = step.playlist;
      return step.track;
    });
    expect(order).toEqual(['a', 'b', 'c', 'a']);
    expect(nextTrack({ left: ['gone'], last: null }, ['a'], 'shuffled', () => 0).track).toBe('a');
    expect(nextTrack(newPlaylist, [], 'fixed', () => 0).track).toBeNull();
  });

  it('C22 the volume has steps of 3 dB under the file as it is, and the lowest is silence', () => {
    expect(gainOfStep(MUSIC_STEPS)).toBe(1);
    expect(20 * Math.log10(gainOfStep(6) / gainOfStep(5))).toBeCloseTo(3, 9);
    expect(gainOfStep(0)).toBe(0);
  });
});

describe('buzz and words', () => {
  it('C23 each signal has a buzz of its own, the beats of one count the same; none runs into the next beat', () => {
    const group = (kind: Sound) => (['three', 'two', 'one'].includes(kind) ? 'count' : kind.startsWith('last-') ? 'last' : kind);
    for (const a of signalKinds) {
      for (const b of signalKinds) expect([a, b, JSON.stringify(buzzes[a]) === JSON.stringify(buzzes[b])]).toEqual([a, b, group(a) === group(b)]);
      // A count comes each second; only the last word may be longer.
      if (a !== 'class-end') expect(buzzes[a].reduce((sum, ms) => sum + ms, 0)).toBeLessThan(1_000);
      expect(rhythmOf(score[a]) + contourOf(score[a])).not.toBe('');
    }
  });

  it('C26 the phone says plainly whether the screens are heard, and what to do', () => {
    const with_ = (screens: Partial<typeof noSound.screens>, from: 'screen' | 'phone' | 'both' = 'screen') =>
      ({ wants: { ...noSound.wants, from }, screens: { ...noSound.screens, ...screens } });
    expect(screenTrouble(with_({ locked: 1 }))).toBe('The screen is silent: press a key on it.');
    expect(screenTrouble(with_({ locked: 1, heard: 1 }))).toBe('One screen is silent: press a key on it.');
    expect(screenTrouble(with_({ silent: 1 }))).toContain('turned down');
    expect(screenTrouble(with_({ none: 1 }))).toContain('no sound');
    expect([screenTrouble(with_({ heard: 1 })), screenTrouble(with_({})), screenTrouble(with_({ locked: 1 }, 'phone'))]).toEqual([null, null, null]);
    expect([soundWords(with_({ heard: 1 })), soundWords(with_({ heard: 2 })), soundWords(with_({}, 'phone'))])
      .toEqual(['The screen can be heard.', '2 screens can be heard.', 'Signals sound from this phone.']);
  });

  it('W60 a screen calls itself heard, locked, silent or without sound as it is', () => {
    const now = (state: 'on' | 'off' | 'locked', problem: string | null = null, volume: 'silent' | 'full' = 'full') => ({ state, problem, settings: { ...defaults, volume } });
    expect([hearingOf(now('on'), true), hearingOf(now('locked'), true), hearingOf(now('off', null, 'silent'), true), hearingOf(now('off'), false),
      hearingOf(now('off'), true), hearingOf(now('on', 'No output'), true)]).toEqual(['heard', 'locked', 'silent', 'silent', 'none', 'none']);
  });
});
