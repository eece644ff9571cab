import { expect, it } from 'vitest';
import { readSettings } from './settings.ts';

it('K11 without settings the demo studio runs with one room on port 8080', () => {
  expect(readSettings({ HALLCLOCK_PORT: '', PATH: '/bin' })).toMatchObject({
    port: 8_080, host: '0.0.0.0', data: '.data', studio: { name: 'Quince Yard Studio' }, rooms: [{ id: 'garden', name: 'Garden room', pattern: 0 }],
  });
});

it('K11 each wrong setting is named with what it is and what it should be', () => {
  const read = readSettings({ HALLCLOCK_PORT: '80808', HALLCLOCK_TIME_ZONE: 'Moon', HALLCLOCK_ROOMS: 'Garden room' });
  expect(read).toEqual({ wrong: [
    'HALLCLOCK_PORT is "80808": ports end at 65535.',
    'HALLCLOCK_TIME_ZONE is "Moon": it is no time zone; it looks like "Europe/Vienna".',
    'HALLCLOCK_ROOMS is "Garden room": rooms are "id:Name", with commas between; each id once, small letters, digits and hyphens.',
  ] });
});

it('K11 rooms have an id, a name and a pattern of their own', () => {
  expect(readSettings({ HALLCLOCK_ROOMS: 'garden:Garden room, hall:The hall,attic' })).toMatchObject({
    rooms: [{ id: 'garden', name: 'Garden room', pattern: 0 }, { id: 'hall', name: 'The hall', pattern: 1 }, { id: 'attic', name: 'attic', pattern: 2 }],
  });
  expect(readSettings({ HALLCLOCK_ROOMS: 'a:One,a:Two' })).toHaveProperty('wrong');
});

it('K11 V434 the language of the screens is one that there is, with any region, in its usual writing', () => {
  expect([undefined, 'de', 'ar-eg'].map((l) => readSettings(l === undefined ? {} : { HALLCLOCK_LANGUAGE: l }))).toMatchObject([{ language: 'en' }, { language: 'de' }, { language: 'ar-EG' }]);
  expect(readSettings({ HALLCLOCK_LANGUAGE: 'fr' })).toEqual({ wrong: ['HALLCLOCK_LANGUAGE is "fr": it is none of en, de, ar, alone or with a region ("de-AT").'] });
});
