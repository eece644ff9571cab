/** Owns the marks on the root element of an older browser: fill.ts sets them, style sheets are written for them. */

/** Its flex boxes keep no gap (css.ts). */
export const NO_GAP = 'data-no-gap';
/** It has no dialogs (base.css of phone and desk). */
export const NO_DIALOG = 'data-no-dialog';
