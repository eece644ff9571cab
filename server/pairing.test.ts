import { expect, it } from 'vitest';
import { PHONE_LASTS_MS, PAIRING_CODE_MS, PAIRING_FREE_TRIES, PAIRING_FREE_TRIES_IN_ALL, PAIRING_WAIT_MOST_MS } from '../shared/limits.ts';
import { serverAt } from '../shared/time/units.ts';
import { hashOf, openCodes, openPhones, tokenIn } from './pairing.ts';

const at = (ms: number) => serverAt(1_800_000_000_000 + ms);
const codes = () => {
  let n = 100_000;
  return openCodes(() => { n += 1; return String(n); });
};

it('R2 a code works once, for ten minutes, and for its own room', async () => {
  const c = codes();
  const garden = c.of('garden', at(0)).code;
  const hall = c.of('hall', at(0)).code;
  expect(c.of('garden', at(PAIRING_CODE_MS - 1)).code).toBe(garden);
  expect(await c.redeem(hall, 'a', at(1))).toEqual({ room: 'hall' });
  expect(await c.redeem(hall, 'a', at(2))).toEqual({ wrong: true });
  expect(await c.redeem(garden, 'a', at(PAIRING_CODE_MS))).toEqual({ wrong: true });
  expect(c.of('garden', at(PAIRING_CODE_MS)).code).not.toBe(garden);
});

it('R3 after five wrong codes a device waits, twice as long each time, up to a minute; others do not', async () => {
  const c = codes();
  const { code } = c.of('garden', at(0));
  let now = 0;
  for (let i = 0; i < PAIRING_FREE_TRIES; i += 1) expect(await c.redeem('000000', 'a', at(now))).toEqual({ wrong: true });
  const waits: number[] = [];
  for (let i = 0; i < 8; i += 1) {
    const answer = await c.redeem('000000', 'a', at(now));
    if (!('waitMs' in answer)) throw new Error('no wait');
    waits.push(answer.waitMs);
    expect(await c.redeem(code, 'a', at(now))).toEqual(answer);
    now += answer.waitMs;
    expect(await c.redeem('000000', 'a', at(now))).toEqual({ wrong: true });
  }
  expect(waits).toEqual([1_000, 2_000, 4_000, 8_000, 16_000, 32_000, PAIRING_WAIT_MOST_MS, PAIRING_WAIT_MOST_MS]);
  expect(await c.redeem(code, 'b', at(now))).toEqual({ room: 'garden' });
});

it('R3 many wrong codes from many devices make everybody wait and change all codes', async () => {
  const c = codes();
  const { code } = c.of('garden', at(0));
  for (let i = 0; i < PAIRING_FREE_TRIES_IN_ALL; i += 1) await c.redeem('000000', `device ${i}`, at(0));
  expect(await c.redeem(code, 'another', at(1))).toEqual({ waitMs: 999 });
  expect(await c.redeem(code, 'another', at(1_000))).toEqual({ wrong: true });
  expect(c.of('garden', at(2_000)).code).not.toBe(code);
});

it('R5 R45 a token opens the rooms it was paired with for a season or until it is let go, is known by its hash alone, and is read out of the cookies', () => {
  const token = 'abcdefghijklmnopqrstuv';
  const phones = openPhones([{ token: hashOf(token), room: 'garden', pairedAt: at(0) }]);
  expect([phones.may(token, 'garden', at(1)), phones.may(token, 'hall', at(1)), phones.may(hashOf(token), 'garden', at(1)), phones.may(null, 'garden', at(1))])
    .toEqual([true, false, false, false]);
  expect([phones.known(token, at(PHONE_LASTS_MS - 1)), phones.known(token, at(PHONE_LASTS_MS))]).toEqual([true, false]);
  expect([phones.drop('nobody'), phones.drop(phones.list(at(1))[0]?.id ?? ''), phones.known(token, at(1))]).toEqual([null, hashOf(token), false]);
  expect(tokenIn(`theme=dark; hallclock=${token}`)).toBe(token);
  expect(tokenIn(`hallclock=${'x'.repeat(22)}; __Host-hallclock=${token}`)).toBe(token);
  expect([tokenIn(undefined), tokenIn('hallclock='), tokenIn('hallclock=short'), tokenIn(`other=${token}`)]).toEqual([null, null, null, null]);
});
