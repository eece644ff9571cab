/** Holds the class voice, with a fake of the browser's speech that only writes down. */
import fc from 'fast-check';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { defaults } from '../../shared/sound/settings.ts';
import { hush, maySpeak, speak, speakMs, spoken, voicesHere } from '../../shared/sound/voice.ts';
import { after } from '../../shared/time/units.ts';
import { isCount } from '../../shared/view/signal-kinds.ts';
import { signalsBetween } from '../../shared/view/signals.ts';
import { view } from '../../shared/view/view.ts';
import { hold } from '../random/class.ts';
import { plans } from '../random/plans.ts';

class Utterance {
  voice: unknown = null;
  volume = 1;
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

function fake() {
  const log: string[] = [];
  const voices = [{ name: 'Anna', lang: 'de-DE' }, { name: 'Moira', lang: 'en-IE' }, { name: 'Fiona', lang: 'en-GB' }];
  vi.stubGlobal('SpeechSynthesisUtterance', Utterance);
  vi.stubGlobal('speechSynthesis', {
    getVoices: () => voices,
    cancel: () => log.push('cancel'),
    speak: (u: Utterance) => log.push(`${u.text} by ${(u.voice as { name: string } | null)?.name ?? 'the usual one'} at ${u.volume}`),
  });
  return log;
}
afterEach(() => vi.unstubAllGlobals());

describe('the class voice', () => {
  it('C25 it speaks in the chosen voice and at the volume of the signals; a new word takes the place of an old one', () => {
    const log = fake();
    speak('Ten seconds', { ...defaults, voiceName: 'Moira' }, 0.5);
    speak('Halfway', { ...defaults, voiceName: 'gone' }, 1);
    expect(log).toEqual(['cancel', 'Ten seconds by Moira at 0.5', 'cancel', 'Halfway by the usual one at 1']);
    expect(voicesHere('en')).toBe('Moira\nFiona');
  });

  it('C25 where there is none it is silent and nothing breaks', () => {
    expect(() => { speak('Halfway', defaults, 1); hush(); }).not.toThrow();
    expect(voicesHere('en')).toBe('');
  });

  it('C25 there is time for "change sides" in the two seconds before the count of the other side, and not for a long name', () => {
    expect(speakMs('Change sides')).toBeLessThan(2_000);
    expect(speakMs('Next: Single-leg bridge')).toBeGreaterThan(2_000);
    expect(speakMs('Next: the longest name that anybody ever gave a movement')).toBe(2_600);
  });

  it('C25 no word is begun that a count or a go would meet, in any class', () => {
    let words = 0;
    fc.assert(fc.property(plans, (plan) => {
      const { session } = hold(plan);
      const all = signalsBetween(session, session.startedAt, after(session.startedAt, 600_000), { halfway: true });
      for (const signal of all) {
        const said = spoken(signal, 'Single-leg bridge');
        if (isCount(signal.kind) || signal.kind === 'go') expect(said).toBeNull();
        if (said === null) continue;
        const coming = all.filter((s) => s.at > signal.at && s.at < after(signal.at, speakMs(said)));
        if (!maySpeak(coming)) continue;
        words += 1;
        // By the view, which knows nothing of signals: nobody is counted in and nothing closes before the word is over.
        for (let ms = 0; ms < speakMs(said); ms += 100) {
          const v = view(session, after(signal.at, ms));
          if (signal.kind !== 'class-end') expect([signal.kind, ms, v.phase === 'count-in', v.closing]).toEqual([signal.kind, ms, false, false]);
        }
      }
    }), { numRuns: 150 });
    expect(words).toBeGreaterThan(20);
  });
});
