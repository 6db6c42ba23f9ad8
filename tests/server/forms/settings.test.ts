import { describe, expect, it } from 'vitest';
import { readSettingsForm } from '#server/forms/settings.ts';

describe('readSettingsForm', () => {
  const read = (wage: string) => readSettingsForm({ wageCentsPerHour: wage }, ['wageCentsPerHour'], 'EUR', 'metric');

  it('takes an amount in the currency', () =>
    expect(read('15,50')).toEqual({ ok: true, value: { wageCentsPerHour: 1550 } }));

  // Neither fifteen thousand euros an hour nor a cent and a bit.
  it.each([
    ['15.005', /^“15\.005” can be read in two ways\. Write 15005 or 15\.0\d\.$/],
    ['1.234567', /^Write at most two digits after the point/],
    ['', /^Enter an amount from/],
  ])('asks about %j', (wage, message) => {
    const parsed = read(wage);
    expect(!parsed.ok && parsed.problems[0]).toMatchObject({
      path: 'wageCentsPerHour',
      message: expect.stringMatching(message),
    });
  });
});
