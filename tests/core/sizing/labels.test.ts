import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { namesInWords } from '#core/shared/figure.ts';
import type { Person } from '#core/sizing/foot.ts';
import {
  footLengthFromLabel,
  type LabelInput,
  labelsForLength,
  type SizeSystem,
  systemsFor,
} from '#core/sizing/labels.ts';
import { readReference } from '#tests/support/reference.ts';

// S1: Mondopoint tables according to ISO/TS 19407:2015, read second-hand (see tests/reference/SOURCES.md).
const rows = readReference('shoe-sizes.csv');
const adults = rows.filter((row) => row.source_id === 'S1' && row.group === 'adult');
const children = rows.filter((row) => row.source_id === 'S1' && row.group === 'child');
// Millimetres in one size, by the definitions of the systems: 2/3 cm, 1/3 inch, and 1/1.08 of them for children.
const euMm = 20 / 3;
const ukMm = 25.4 / 3;

function lengthOf(input: LabelInput): number {
  const result = footLengthFromLabel(Object.freeze(input));
  if (!result.ok) throw new Error(result.problems[0]!.message);
  return result.value.value;
}

function messageOf(input: LabelInput): string {
  const result = footLengthFromLabel(Object.freeze(input), 'size');
  if (result.ok) throw new Error(`taken as ${result.value.value}`);
  expect(result.problems).toHaveLength(1);
  expect(result.problems[0]!.path).toBe('size');
  return result.problems[0]!.message;
}

function labelAt(person: Person, system: SizeSystem, lengthMm: number): string | undefined {
  return labelsForLength(person, lengthMm).find((each) => each.system === system)?.label;
}

describe('footLengthFromLabel, against the published table of adults', () => {
  it('has all 22 rows', () => {
    expect(adults).toHaveLength(22);
  });

  it.each(adults.map((row) => [row.foot_mm!, row] as const))(
    '%s mm: EU within 0.25 and UK within 0.26 sizes',
    (_, row) => {
      const footMm = Number(row.foot_mm);
      for (const person of ['woman', 'man', 'unknown'] as const) {
        const eu = lengthOf({ person, system: 'EU', label: row.eu! });
        expect(Math.abs(eu - footMm) / euMm).toBeLessThanOrEqual(0.25 + 1e-9);
        const uk = lengthOf({ person, system: 'UK', label: row.uk! });
        expect(Math.abs(uk - footMm) / ukMm).toBeLessThanOrEqual(0.26);
      }
    },
  );

  it.each(adults.map((row) => [row.foot_mm!, row] as const))('%s mm: US men is UK + 1, US women UK + 2', (_, row) => {
    const uk = lengthOf({ person: 'woman', system: 'UK', label: row.uk! });
    expect(lengthOf({ person: 'man', system: 'US', label: row.us_men! })).toBeCloseTo(uk, 9);
    expect(lengthOf({ person: 'woman', system: 'US', label: row.us_women! })).toBeCloseTo(uk, 9);
  });

  it('can take the common scale for US women, half a size higher', () => {
    const byTable = lengthOf({ person: 'woman', system: 'US', label: '7' });
    expect(lengthOf({ person: 'woman', system: 'US', label: '7.5', usWomenOffset: 2.5 })).toBeCloseTo(byTable, 9);
  });
});

describe('footLengthFromLabel, against the published table of children', () => {
  it('has all 38 rows', () => {
    expect(children).toHaveLength(38);
  });

  it.each(children.map((row) => [row.foot_mm!, row] as const))('%s mm: EU within 0.29 sizes', (_, row) => {
    const foot = lengthOf({ person: 'child', system: 'EU', label: row.eu! });
    expect(Math.abs(foot - Number(row.foot_mm)) / (euMm / 1.08)).toBeLessThanOrEqual(0.29);
  });

  const stage = (running: number) => {
    if (running > 13.5) return `junior ${running - 13}`;
    return running >= 1 && running <= 5.5 ? `infant ${running}` : String(running);
  };

  it.each(children.filter((row) => row.uk_continuous).map((row) => [row.foot_mm!, row] as const))(
    '%s mm: UK and US within the 0.75 sizes that the published rows allow',
    (_, row) => {
      const uk = lengthOf({ person: 'child', system: 'UK', label: stage(Number(row.uk_continuous)) });
      expect(Math.abs(uk - Number(row.foot_mm)) / (ukMm / 1.08)).toBeLessThanOrEqual(0.75);
      if (!row.us_child_continuous) return;
      // The table prints US as UK + 1/2 where the definition has + 1/3, so a sixth of a size comes on top.
      const us = lengthOf({ person: 'child', system: 'US', label: stage(Number(row.us_child_continuous)) });
      expect(Math.abs(us - Number(row.foot_mm)) / (ukMm / 1.08)).toBeLessThanOrEqual(0.85);
    },
  );

  it('counts on after 13.5: junior 1 is half a size above it', () => {
    const last = lengthOf({ person: 'child', system: 'UK', label: '13 1/2' });
    for (const label of ['junior 1', 'Junior 1', 'J1', 'j 1', '1J', 'youth 1', '1Y']) {
      expect(lengthOf({ person: 'child', system: 'UK', label })).toBeCloseTo(last + (0.5 * 25.4) / 3.24, 9);
    }
  });

  it('keeps the small child’s 1 apart', () => {
    // (1 + 12) x 25.4 / 3.24 = 101.9 mm
    for (const label of ['infant 1', 'toddler 1', '1C', 'i1']) {
      expect(lengthOf({ person: 'child', system: 'UK', label })).toBeCloseTo(101.914, 3);
    }
  });

  it('has the same EU 36 shorter for a child than for an adult', () => {
    // 36 x 10 / 1.62 = 222.2; (36 - 2) x 20 / 3 = 226.7
    expect(lengthOf({ person: 'child', system: 'EU', label: '36' })).toBeCloseTo(222.222, 3);
    expect(lengthOf({ person: 'woman', system: 'EU', label: '36' })).toBeCloseTo(226.667, 3);
  });
});

describe('footLengthFromLabel, as people write', () => {
  it.each([
    ['EU', '38,5', 243.3333],
    ['EU', '38 1/2', 243.3333],
    ['EU', '38½', 243.3333],
    ['EU', ' EU 38 ', 240],
    ['EU', 'eu38', 240],
    ['Japan', '24.5', 245],
    ['Japan', '24,5 cm', 245],
    ['Mondopoint', '245', 245],
    ['Mondopoint', '245 mm', 245],
  ] as const)('%s “%s” is %d mm', (system, label, footMm) => {
    expect(lengthOf({ person: 'woman', system, label })).toBeCloseTo(footMm, 3);
  });

  it('remembers the working', () => {
    const result = footLengthFromLabel({ person: 'child', system: 'UK', label: 'junior 2' });
    if (!result.ok) throw new Error('refused');
    expect(result.value.rule.words).toBe('({size} + 12) x 25.4 / 3.24');
    expect(namesInWords(result.value.rule.words)).toHaveLength(result.value.inputs.length);
    expect(result.value.inputs[0]!.value).toBe(15);
    expect(result.value.inputs[0]!.inputs[0]!.value).toBe(2);
  });
});

describe('footLengthFromLabel, refusing', () => {
  it.each([
    ['woman', 'EU', '380', 'Enter an EU size between 33 and 52, like 38. You typed “380”.'],
    ['woman', 'EU', '', 'Enter an EU size between 33 and 52, like 38.'],
    ['woman', 'EU', 'large', 'Enter an EU size between 33 and 52, like 38. You typed “large”.'],
    ['woman', 'EU', 'UK 5', 'Enter an EU size between 33 and 52, like 38. You typed “UK 5”.'],
    ['woman', 'EU', '32.5', 'Enter an EU size between 33 and 52, like 38. You typed “32.5”.'],
    ['woman', 'EU', '52.5', 'Enter an EU size between 33 and 52, like 38. You typed “52.5”.'],
    ['child', 'EU', '41', "Enter a child's EU size between 16 and 40, like 28. You typed “41”."],
    ['man', 'US', '38', 'Enter a US size between 2 and 17, like 9. You typed “38”.'],
    ['man', 'UK', 'junior 3', 'Enter a UK size between 1 and 16, like 5. You typed “junior 3”.'],
    ['woman', 'EU', '36/37', 'These are two sizes. Enter one of them, or one between, like 38. You typed “36/37”.'],
    ['woman', 'EU', '36 – 37', 'These are two sizes. Enter one of them, or one between, like 38. You typed “36 – 37”.'],
    ['unknown', 'US', '8', 'Choose woman, man or child: US sizes differ between them. Or enter the EU or UK size.'],
    [
      'child',
      'UK',
      '3',
      // (3 + 12) x 25.4 / 3.24 = 117.6 mm, (16 + 12) x 25.4 / 3.24 = 219.5 mm
      'Write “infant 3” (a foot of about 11.8 cm, 4.6 in) or “junior 3” (about 22 cm, 8.7 in): ' +
        "children's sizes begin again at 1 after 13.5. You typed “3”.",
    ],
    [
      'child',
      'UK',
      '14',
      "Enter a child's UK size from 0 to 13.5, or from junior 1 to junior 5.5, like 10. You typed “14”.",
    ],
    [
      'child',
      'UK',
      'junior 7',
      "Enter a child's UK size from 0 to 13.5, or from junior 1 to junior 5.5, like 10. You typed “junior 7”.",
    ],
  ] as const)('%s %s “%s”', (person, system, label, message) => {
    expect(messageOf({ person, system, label })).toBe(message);
  });

  it.each([
    ['woman', 'EU', '33'],
    ['woman', 'EU', '52'],
    ['child', 'EU', '16'],
    ['child', 'EU', '40'],
    ['man', 'US', '2'],
    ['woman', 'US', '18'],
    ['child', 'UK', '13.5'],
    ['child', 'UK', '0'],
    ['child', 'US', 'junior 5.5'],
  ] as const)('takes the ends themselves: %s %s %s', (person, system, label) => {
    expect(lengthOf({ person, system, label })).toBeGreaterThan(60);
  });

  it('throws for an offset of US women’s sizes that no scale has', () => {
    const input = { person: 'woman', system: 'US', label: '8', usWomenOffset: 1.5 } as const;
    expect(() => footLengthFromLabel(input)).toThrow(RangeError);
  });

  it('answers any text with a length or a sentence, never with a fault', () => {
    const persons = fc.constantFrom<Person>('woman', 'man', 'child', 'unknown');
    const systems = fc.constantFrom<SizeSystem>('EU', 'UK', 'US', 'Japan', 'Mondopoint');
    const texts = fc.oneof(fc.string(), fc.stringMatching(/^(j|infant )?[0-9]{0,3}[.,½/ -]?[0-9]{0,2}(cm|Y|C)?$/));
    fc.assert(
      fc.property(persons, systems, texts, (person, system, label) => {
        const result = footLengthFromLabel({ person, system, label });
        if (!result.ok) return result.problems.length === 1 && result.problems[0]!.message.endsWith('.');
        return result.value.value >= 85 && result.value.value <= 345;
      }),
      { numRuns: 2000 },
    );
  });
});

describe('labelsForLength', () => {
  it.each(adults.map((row) => [row.foot_mm!, row] as const))('%s mm: EU as in the published table', (_, row) => {
    expect(labelAt('woman', 'EU', Number(row.foot_mm))).toBe(String(Number(row.eu)));
  });

  // 235 mm computes to 4.756 and 290 mm to 11.252; the table prints 4.5 and 11.
  it.each(adults.filter((row) => !['235', '290'].includes(row.foot_mm!)).map((row) => [row.foot_mm!, row] as const))(
    '%s mm: UK, US men and US women as in the published table',
    (_, row) => {
      expect(labelAt('woman', 'UK', Number(row.foot_mm))).toBe(String(Number(row.uk)));
      expect(labelAt('man', 'US', Number(row.foot_mm))).toBe(String(Number(row.us_men)));
      expect(labelAt('woman', 'US', Number(row.foot_mm))).toBe(String(Number(row.us_women)));
    },
  );

  // 224 mm and 230 mm compute to 36.29 and 37.26; the table prints 36 and 37.
  it.each(children.filter((row) => !['224', '230'].includes(row.foot_mm!)).map((row) => [row.foot_mm!, row] as const))(
    '%s mm: child EU as in the published table',
    (_, row) => {
      expect(labelAt('child', 'EU', Number(row.foot_mm))).toBe(String(Number(row.eu)));
    },
  );

  it('writes a child’s UK size so that it can be read back', () => {
    // 102 mm is 1.01, 160 mm is 8.41, 220 mm is 16.06, which is 3 after 13
    expect(labelAt('child', 'UK', 102)).toBe('infant 1');
    expect(labelAt('child', 'UK', 160)).toBe('8.5');
    expect(labelAt('child', 'UK', 220)).toBe('junior 3');
  });

  it('leaves out systems that do not have the foot', () => {
    expect(labelsForLength('woman', 100)).toEqual([]);
    expect(labelsForLength('unknown', 240).map(({ system }) => system)).toEqual(['EU', 'UK', 'Japan', 'Mondopoint']);
    expect(systemsFor('child')).toEqual(['EU', 'UK', 'US', 'Japan', 'Mondopoint']);
  });

  it('refuses a length that no foot has', () => {
    expect(() => labelsForLength('woman', 59)).toThrow(RangeError);
    expect(() => labelsForLength('woman', Number.NaN)).toThrow(RangeError);
  });

  it('gives labels that read back to within half a step of the foot', () => {
    const halfStepMm = { EU: euMm / 4, UK: ukMm / 4, US: ukMm / 4, Japan: 2.5, Mondopoint: 2.5 };
    const persons = fc.constantFrom<Person>('woman', 'man', 'child', 'unknown');
    fc.assert(
      fc.property(persons, fc.double({ min: 60, max: 360, noNaN: true }), (person, lengthMm) =>
        labelsForLength(person, lengthMm).every(({ system, label }) => {
          return Math.abs(lengthOf({ person, system, label }) - lengthMm) <= halfStepMm[system] + 1e-6;
        }),
      ),
    );
  });
});
