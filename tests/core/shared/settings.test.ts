import { describe, expect, test } from 'vitest';
import { confidences } from '#core/shared/estimate.ts';
import {
  checkSetting,
  parseSetting,
  readSettings,
  type SettingName,
  settingDefinitions,
  settingNames,
} from '#core/shared/settings.ts';

describe('settingDefinitions', () => {
  test('every default lies in its own range', () => {
    for (const name of settingNames) {
      expect(checkSetting(name, settingDefinitions[name].standard), name).toEqual({
        ok: true,
        value: settingDefinitions[name].standard,
      });
    }
  });

  test('the confidences are those that have a quantile', () => {
    const { kind } = settingDefinitions.confidence;
    const choices = kind.is === 'choice' ? kind.choices : [];
    expect(choices).toEqual(confidences.map(({ ratio, words }) => ({ value: ratio, words })));
  });
});

describe('parseSetting', () => {
  const accepted: readonly [SettingName, string, unknown][] = [
    ['currency', 'gbp', 'GBP'],
    ['purpose', 'give', 'give'],
    ['wageCentsPerHour', '1250', 1250],
    ['wageCentsPerHour', '0', 0],
    ['plannedHoursPerMonth', '37,5', 37.5],
    ['confidence', '0.95', 0.95],
    ['usWomenOffset', '2.5', 2.5],
    ['chargeOpenedBall', 'on', true],
    ['chargeOpenedBall', '', false],
    ['referenceKnitterId', '3', 3],
    ['referenceKnitterId', '', null],
    ['timeZone', ' Europe/London ', 'Europe/London'],
    ['taxNote', '', ''],
    ['dailyCapMin', '1440', 1440],
  ];
  test.each(accepted)('%s takes %j', (name, text, value) => {
    expect(parseSetting(name, text)).toEqual({ ok: true, value });
  });

  const refused: readonly [SettingName, string][] = [
    ['currency', 'EURO'],
    ['currency', '€'],
    ['purpose', 'burn'],
    ['wageCentsPerHour', '-1'],
    ['wageCentsPerHour', '12.5'],
    ['wageCentsPerHour', ''],
    ['wageCentsPerHour', '1e3'],
    ['wageCentsPerHour', '0x10'],
    ['wageCentsPerHour', '9'.repeat(400)],
    ['plannedHoursPerMonth', '0'],
    ['confidence', '0.85'],
    ['referenceKnitterId', '0'],
    ['referenceKnitterId', 'Ruth'],
    ['timeZone', 'Mars/North'],
    ['timeZone', ''],
    ['spareRatio', '0.51'],
    ['dailyCapMin', '1441'],
    ['dailyCapMin', 'NaN'],
    ['taxNote', 'x'.repeat(501)],
  ];
  test.each(refused)('%s refuses %j, with a sentence at its field', (name, text) => {
    const result = parseSetting(name, text);
    expect(result).toMatchObject({ ok: false, problems: [{ path: name }] });
    expect(result.ok ? '' : result.problems[0]!.message).toMatch(/^(Enter|Choose|Use) .*\.$/);
  });
});

describe('readSettings', () => {
  test('without rows, the defaults', () => {
    expect(readSettings([])).toMatchObject({ currency: 'EUR', wageCentsPerHour: 0, confidence: 0.9, timeZone: 'UTC' });
  });

  test('what is stored counts; what is broken, out of range or unknown does not', () => {
    const rows = Object.freeze([
      { name: 'currency', valueJson: '"GBP"' },
      { name: 'confidence', valueJson: '2' },
      { name: 'buyAt', valueJson: '{' },
      { name: 'oneSupplierPerColour', valueJson: 'false' },
      { name: 'dailyCapMin', valueJson: '"240"' },
      { name: 'favouriteTea', valueJson: '"mint"' },
    ]);
    expect(readSettings(rows)).toEqual({ ...readSettings([]), currency: 'GBP', oneSupplierPerColour: false });
  });
});
