/** Owns a chain's desk and a studio's own, each on a disk of its own, with a line between that may lose what is said. */
import { join } from 'node:path';
import { expect } from 'vitest';
import { type Plan, type PlanInput, planSchema } from '../../shared/plan/plan.ts';
import { type Entry, entrySchema } from '../../shared/plan/timetable.ts';
import { serverAt } from '../../shared/time/units.ts';
import { HOUSE_SPEAKS } from '../../shared/wire/house.ts';
import { diskFiles, type StudioFiles } from '../../server/files/files.ts';
import { givenBy, newsFor } from '../../server/houses/given.ts';
import { openLibrary } from '../../server/library.ts';
import { openKept } from '../../server/people/kept.ts';
import { openPlans } from '../../server/plans/keep.ts';
import { downFileSchema, noDownFile, openDown } from '../../server/upward/down.ts';
import { Hindered } from '../../server/upward/hindered.ts';
import { newFolder } from '../server/serve.ts';

export const plan = (more: Partial<PlanInput> = {}): Plan => planSchema.parse({ format: 1, id: 'dawn', name: 'Dawn', sections: [{ id: 'main', kind: 'main', work: 40, items: [{ movement: 'squat' }] }], ...more });
export const line = (more: Partial<Entry> = {}): Entry => entrySchema.parse({ id: 'mon', plan: 'dawn', room: 'garden', day: '2026-01-05', at: '18:00', minutes: 45, weekly: true, ...more });

const MEDIA = join(import.meta.dirname, '../../media');
const hello = { speaks: HOUSE_SPEAKS, version: 'test' } as const;
let clockMs = 1_790_000_000_000;
const now = () => serverAt(clockMs++);
function desk(files: StudioFiles) {
  const library = openLibrary(MEDIA, files);
  const plans = openPlans(files, library, now);
  const ofKept = async (id: string) => { const got = await plans.kept(id); return 'plan' in got ? got : null; };
  return { files, library, plans, ofKept, edit: async (id: string, change: (p: Plan) => Plan): Promise<void> => {
    const here = await ofKept(id);
    if (here?.own) expect(await plans.put(id, { base: here.revision, plan: change(here.plan) })).toMatchObject({ plan: { id } });
  } };
}
/** A chain and a studio, each on a disk of its own. @param lost whether the next question, or its answer, is lost */
export async function pairOf(lost: () => 'question' | 'answer' | null = () => null) {
  const [chain, here, house] = [desk(diskFiles(newFolder())), desk(diskFiles(newFolder())), diskFiles(newFolder())];
  let newsSeen = 0;
  const begin = async () => openDown({
    chain: 'https://chain.example', version: 'test', files: here.files, plans: here.plans, now,
    file: await openKept(here.files, 'from-chain.json', downFileSchema, noDownFile, (sentence) => { throw new Error(sentence); }),
    ask: { plans: async (body) => {
      const way = lost();
      if (way === 'question') throw new Hindered('lost');
      const answer = { ...hello, ...await newsFor({ files: house }, await givenBy(chain), body) };
      if (answer.news) newsSeen += 1;
      if (way === 'answer') throw new Hindered('lost');
      return answer;
    } },
  });
  return { chain, here, house, begin, newsSeen: () => newsSeen };
}
