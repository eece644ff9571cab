/**
 * Owns for which browsers the pages are built: those of about 2019, as televisions and sticks
 * still have them. The build lowers syntax and what it can of style; css.ts and fill.ts do
 * the rest, and V450 to V452 look at what was built.
 */
export const targets = ['chrome79', 'safari13.1'];
