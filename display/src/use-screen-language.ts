/**
 * Owns the language of this screen: the address says it (?lang=de), else what was chosen
 * here before, else the studio's, else English. The key L and the button at the doors go
 * through the languages; what is chosen stays on this screen.
 */
import { useCallback, useEffect, useRef, useState } from 'react';
import type { Language } from '../../shared/words/language.ts';
import { english, languageIn, languages, loadLanguage, tagFrom } from '../../shared/words/languages.ts';

/** Beside what else a screen keeps; a tag such as "de" or "ar-EG", or nothing. */
export const LANGUAGE_KEY = 'hallclock.language';

function kept(): string | null {
  try {
    return localStorage.getItem(LANGUAGE_KEY);
  } catch {
    // Private windows and full disks have no storage.
    return null;
  }
}

function keep(tag: string): void {
  try {
    localStorage.setItem(LANGUAGE_KEY, tag);
  } catch {
    // Kept until the page is closed.
  }
}

/** A letter of each script that a font of its own is fetched for, so that nothing is first measured in another one. */
const sampleOf: Readonly<Record<string, string>> = { ar: 'ا' };
const FONT_WAIT_MS = 3_000;
/** A language that did not come is asked for again after this. */
const AGAIN_MS = 5_000;

async function withFont(language: Language): Promise<Language> {
  const sample = sampleOf[languageIn(language.tag) ?? 'en'];
  if (sample === undefined) return language;
  const family = getComputedStyle(document.documentElement).fontFamily;
  await Promise.race([
    Promise.all([450, 760].map((weight) => document.fonts.load(`${weight} 16px ${family}`, sample))).catch(() => []),
    new Promise((resolve) => { setTimeout(resolve, FONT_WAIT_MS); }),
  ]);
  return language;
}

export interface ScreenLanguage {
  readonly language: Language;
  /** By its tag; kept on this screen. */
  readonly choose: (tag: string) => void;
  /** The next of the languages there are, or the one before. */
  readonly turn: (by?: number) => void;
}

/** @param studio what the studio's settings say, once the server has told it */
export function useScreenLanguage(search: string, studio: string | null): ScreenLanguage {
  const [chosen, setChosen] = useState<string | null>(null);
  const [language, setLanguage] = useState(english);
  const [tries, tryAgain] = useState(0);
  const wanted = tagFrom([chosen, new URLSearchParams(search).get('lang'), kept(), studio]);
  useEffect(() => {
    let here = true;
    let timer: ReturnType<typeof setTimeout> | undefined;
    // Without it the words stay in the language that is there, as the class must be shown, and it is asked for again.
    loadLanguage(wanted).then(withFont).then((loaded) => here && setLanguage(loaded)).catch(() => {
      if (here) timer = setTimeout(() => tryAgain(tries + 1), AGAIN_MS);
    });
    return () => {
      here = false;
      clearTimeout(timer);
    };
  }, [wanted, tries]);
  useEffect(() => {
    document.documentElement.lang = language.tag;
  }, [language]);
  const choose = useCallback((tag: string) => {
    keep(tag);
    setChosen(tag);
  }, []);
  const latest = useRef(wanted);
  latest.current = wanted;
  const turn = useCallback((by = 1) => {
    const at = languages.findIndex((l) => l.id === languageIn(latest.current));
    choose(languages[(at + by + languages.length) % languages.length]?.id ?? 'en');
  }, [choose]);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.repeat || event.key.toLowerCase() !== 'l' || event.ctrlKey || event.metaKey || event.altKey) return;
      turn();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [turn]);
  return { language, choose, turn };
}
