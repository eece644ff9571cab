/** Owns the language of what is drawn: given once at the top of a page, English where nobody gave one. */
import { createContext, useContext } from 'react';
import type { Language } from '../words/language.ts';
import { english } from '../words/languages.ts';

const LanguageContext = createContext<Language>(english);
export const LanguageProvider = LanguageContext.Provider;
export const useLanguage = (): Language => useContext(LanguageContext);
