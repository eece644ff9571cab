/**
 * Owns what is in a file that was taken home: the plans with the versions they were taken
 * from, the library, and of which studio and when; how it is written into a page so that
 * nothing in it is ever a tag, and how it is read back as text. Leaves alone the page
 * around it (page.ts) and what comes of bringing it back (compare.ts).
 */
import { z } from 'zod';
import { HOME_PICTURE_MOST_CHARS, HOME_SAVES_MAX, NAME_MAX, NOTE_MAX, OWN_PLANS_MAX } from '../limits.ts';
import { movementSchema } from '../movement/movement.ts';
import { same } from '../plan/merge.ts';
import { planSchema } from '../plan/plan.ts';
import { issueWords, placeWords } from '../plan/read-file.ts';
import { revisionSchema } from '../wire/plans.ts';

export const HOME_FORMAT = 1;

export const homePlanSchema = z.strictObject({
  now: planSchema,
  /** As it was at the desk when it was taken; null for one that was begun at home. */
  base: planSchema.nullable(),
  revision: revisionSchema.nullable(),
  /** Put into the bin at home; it lies in the file all the same. */
  gone: z.boolean().default(false),
  /** What stood in the files that were saved at home before, newest first: one of them may have been brought back already. */
  saves: z.array(planSchema).max(HOME_SAVES_MAX).default([]),
  /** What was left in the studio for whoever covers this class; to read at home. */
  cover: z.string().max(NOTE_MAX).optional(),
});
export type HomePlan = z.infer<typeof homePlanSchema>;

/** The plan as it is written into a file now, which is then one that may come back. */
export const asSaved = (plan: HomePlan): HomePlan =>
  same(plan.now, plan.base) || same(plan.now, plan.saves[0]) ? plan : { ...plan, saves: [plan.now, ...plan.saves].slice(0, HOME_SAVES_MAX) };

export const homeFileSchema = z.strictObject({
  kind: z.literal('hallclock-at-home'),
  format: z.literal(HOME_FORMAT, { error: (issue) => typeof issue.input === 'number' && issue.input > HOME_FORMAT
    ? `it is of format ${issue.input}, written by a newer Hallclock; this one reads format ${HOME_FORMAT}` : `the format must be ${HOME_FORMAT}` }),
  /** Made anew each time that something is taken home. */
  id: z.uuid(),
  studio: z.string().min(1).max(200),
  timeZone: z.string().min(1).max(NAME_MAX),
  takenAt: z.int().min(0),
  /** When it was last saved as a file at home. */
  savedAt: z.int().min(0).nullable(),
  plans: z.array(homePlanSchema).max(2 * OWN_PLANS_MAX),
  movements: z.array(movementSchema).max(1_000).default([]),
  /** The studio's own pictures by their names, as data addresses. */
  pictures: z.record(z.string().max(120), z.string().max(HOME_PICTURE_MOST_CHARS).regex(/^data:(image|video)\/[a-z0-9]+;base64,[A-Za-z0-9+/=]*$/, 'a picture is a data address')).default({}),
}).superRefine(({ plans }, ctx) => {
  const seen = new Set<string>();
  plans.forEach(({ now }, i) => {
    if (seen.has(now.id)) ctx.addIssue({ code: 'custom', path: ['plans', i, 'now', 'id'], message: `the plan "${now.id}" is there twice` });
    seen.add(now.id);
  });
});
export type HomeFile = z.infer<typeof homeFileSchema>;

export const BLOCK = 'hallclock-at-home';
const OPENS = `<script type="application/json" id="${BLOCK}">`;
const CLOSES = '</script>';

/** JSON in which no letter can end a script or begin a comment or a tag, for a block of a page and for old readers of scripts. */
export const safeJson = (value: unknown): string =>
  JSON.stringify(value).replace(/[<>&\u2028\u2029]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`);
export const blockOf = (file: HomeFile): string => `${OPENS}${safeJson(file)}${CLOSES}`;

export type ReadHome = { readonly file: HomeFile } | { readonly refused: string };

/** Reads a page that was taken home, or its JSON alone. Text is all it ever is: nothing in it is run. */
export function readHome(text: string): ReadHome {
  const begins = text.indexOf(OPENS);
  const ends = begins < 0 ? -1 : text.indexOf(CLOSES, begins);
  if (begins >= 0 && ends < 0) return { refused: 'It breaks off in the middle of its plans. Copy it from where it was saved once more.' };
  const from = begins < 0 ? text : text.slice(begins + OPENS.length, ends);
  let json: unknown;
  try {
    json = JSON.parse(from);
  } catch {
    return { refused: begins < 0 ? 'It is no file that was taken home from here. Choose the one that “Save as file” made.' : 'Its plans cannot be read: the file was damaged or changed by another program. Choose one that was saved before.' };
  }
  if (typeof json !== 'object' || json === null || (json as { kind?: unknown }).kind !== BLOCK) return { refused: 'It holds no plans that were taken home. Choose the file that “Save as file” made; a single plan comes in under “From a file”.' };
  const parsed = homeFileSchema.safeParse(json);
  if (parsed.success) return { file: parsed.data };
  const issue = parsed.error.issues[0];
  const more = parsed.error.issues.length - 1;
  return { refused: issue ? `At ${placeWords(issue.path) || 'the top'}: ${issueWords(issue)}${more > 0 ? ` (and ${more} more)` : ''}. Nothing was brought in.` : 'It was not understood.' };
}
