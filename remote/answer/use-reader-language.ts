/**
 * Owns the language of a participant's phone: what was chosen on the page, else the first that the
 * phone's own settings name and we have, else the studio's. Nothing is kept on the phone.
 */
import { useEffect, useState } from 'react';
import type { Language } from '../../shared/words/language.ts';
import { english, languageIn, loadLanguage, tagFrom } from '../../shared/words/languages.ts';

/** @param studio what the studio's settings say, once the server has told it */
export function useReaderLanguage(studio: string | null): { readonly language: Language; readonly speak: (tag: string) => void } {
  const [chosen, speak] = useState<string | null>(null);
  const [language, set] = useState(english);
  // A phone that is set to one of ours by its region ("de-AT") keeps it when its plain name is chosen.
  const [own] = useState(() => navigator.languages);
  const wanted = tagFrom([own.find((tag) => chosen !== null && languageIn(tag) === chosen), chosen, ...own, studio]);
  useEffect(() => {
    let here = true;
    // Without it the words stay as they are: they can be read, and the buttons try again.
    loadLanguage(wanted).then((loaded) => here && set(loaded)).catch(() => {});
    return () => { here = false; };
  }, [wanted]);
  useEffect(() => {
    document.documentElement.lang = language.tag;
    document.documentElement.dir = language.direction;
  }, [language]);
  return { language, speak };
}
