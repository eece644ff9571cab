import { expect, it } from 'vitest';
import { timeMark } from './server-time.ts';

const HOUR = 3_600_000;
const read = { wallMs: 1_800_000_000_000, monotonicMs: 50_000, bootId: 'this boot' };

it('K10 without a class the wall clock is believed, but never before the last event', () => {
  expect(timeMark(read, null, false, 0).offsetMs + read.monotonicMs).toBe(read.wallMs);
  expect(timeMark(read, { bootId: 'this boot', offsetMs: 0 }, false, 0).offsetMs + read.monotonicMs).toBe(read.wallMs);
  expect(timeMark(read, null, false, read.wallMs + HOUR).offsetMs + read.monotonicMs).toBe(read.wallMs + HOUR);
});

it('K10 while a class runs, a restart in the same boot goes on exactly, however the wall clock was set', () => {
  const first = timeMark(read, null, false, 0);
  for (const stepMs of [-HOUR, 0, HOUR]) {
    const later = { ...read, monotonicMs: read.monotonicMs + 700.25, wallMs: read.wallMs + 700 + stepMs };
    expect(timeMark(later, first, true, read.wallMs).offsetMs).toBe(first.offsetMs);
  }
});

it('K10 after another boot the stored mark says nothing', () => {
  const stored = timeMark(read, null, false, 0);
  const booted = { wallMs: read.wallMs + 60_000, monotonicMs: 4_000, bootId: 'the next boot' };
  expect(timeMark(booted, stored, true, read.wallMs).offsetMs + 4_000).toBe(read.wallMs + 60_000);
});
