/** Two versions of a workshop file to one: by the things in it. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { mergeWorkshops } from '../../server/record/merge-workshop';
import { type Random, seeded } from '../support/random';

const LABELS = { ours: 'ours', theirs: 'theirs' };

const BASE = `# What the shop owns.

shop:
  name: Tarn End

scales:
  # By the window.
  bench: 0.01 g
  fine:
    division: 0.001 g
    capacity: 60 g

measures: { spoon: 14 g }
`;

const merged = (ours: string, theirs: string, base = BASE) => mergeWorkshops(base, ours, theirs, LABELS);

describe('two versions of a workshop file', () => {
  it('that add a scale each keep both', () => {
    const added = (text: string): string => BASE.replace('\n\nmeasures', `\n${text}\n\nmeasures`);
    expect(merged(added('  platform: 1 g'), added('  # From the fair.\n  yard: 0.1 kg'))).toEqual({
      text: added('  platform: 1 g\n  # From the fair.\n  yard: 0.1 kg'),
      conflicts: [],
    });
  });

  it('that add a section each keep both, and what stands below', () => {
    const made = merged(
      `${BASE}\nhands:\n  AB: A. Beck\n`,
      `${BASE.replace('measures', 'moulds:\n  cone-1: 150 mL\n\nmeasures')}\nhands:\n  CD: C. Dale\n`,
    );
    expect(made?.conflicts).toEqual([]);
    expect(made?.text).toBe(
      `${BASE.replace('measures', 'moulds:\n  cone-1: 150 mL\n\nmeasures')}\nhands:\n  AB: A. Beck\n  CD: C. Dale\n`,
    );
  });

  it('that change one value each keep both, and what one took out is gone', () => {
    const made = merged(BASE.replace('60 g', '80 g'), BASE.replace('  # By the window.\n  bench: 0.01 g\n', ''));
    expect(made).toEqual({
      text: BASE.replace('60 g', '80 g').replace('  # By the window.\n  bench: 0.01 g\n', ''),
      conflicts: [],
    });
  });

  it('that give one thing two values leave it to a human', () => {
    const made = merged(BASE.replace('bench: 0.01', 'bench: 0.02'), BASE.replace('bench: 0.01', 'bench: 0.05'));
    expect(made?.conflicts).toEqual(['scales bench']);
    expect(made?.text).toContain(
      'scales:\n<<<<<<< ours\n  # By the window.\n  bench: 0.02 g\n=======\n  # By the window.\n  bench: 0.05 g\n>>>>>>> theirs\n  fine:\n',
    );
  });

  it('that give two new things one name leave them to a human, wherever they stand', () => {
    const made = merged(BASE.replace('  # By', '  yard: 1 g\n  # By'), BASE.replace('60 g\n', '60 g\n  yard: 2 g\n'));
    expect(made?.conflicts).toEqual(['scales yard']);
  });

  it('of which one changed what the other took out leave it to a human', () => {
    const without = BASE.replace('  # By the window.\n  bench: 0.01 g\n', '');
    expect(merged(without, BASE.replace('0.01 g', '0.02 g'))?.conflicts).toEqual(['scales bench']);
  });

  it('of which one emptied the section that the other added to keep the section', () => {
    const base = 'moulds:\n  cone-1: 150 mL\nscales:\n  bench: 0.01 g\n';
    expect(merged('scales:\n  bench: 0.01 g\n', base.replace('scales', '  bar-1: 12 mL\nscales'), base)?.text).toBe(
      'moulds:\n  bar-1: 12 mL\nscales:\n  bench: 0.01 g\n',
    );
  });

  it('are not joined where what comes out would say something else, or one cannot be read', () => {
    const deeper = BASE.replace(/^ {2}/gm, '    ');
    expect(merged(deeper, BASE.replace('60 g\n', '60 g\n  yard: 2 g\n'))).toBeUndefined();
    expect(merged(BASE, 'scales:\n  bench: 1 g\n  bench: 2 g\n')).toBeUndefined();
    expect(merged(BASE, `<<<<<<< a\n${BASE}=======\n>>>>>>> b\n`)).toBeUndefined();
    expect(merged(BASE, 'scales: {bench: 1 g\n')).toBeUndefined();
  });

  it('keep the line ends of ours', () => {
    const windows = BASE.replaceAll('\n', '\r\n');
    expect(merged(windows, BASE.replace('60 g', '80 g'))?.text).toBe(windows.replace('60 g', '80 g'));
  });

  it('are the sample, and unchanged where one side changed nothing', () => {
    const sample = readFileSync(resolve(__dirname, '../../samples/tarn-end/workshop.yaml'), 'utf8');
    const changed = sample.replace('capacity: 600 g', 'capacity: 610 g');
    expect(merged(sample, sample, sample)).toEqual({ text: sample, conflicts: [] });
    expect(merged(sample, changed, sample)).toEqual({ text: changed, conflicts: [] });
    expect(merged(changed, sample, sample)).toEqual({ text: changed, conflicts: [] });
  });
});

type Shop = Record<string, Record<string, string>>;

const SECTIONS = ['scales', 'moulds', 'crucibles', 'containers', 'hands'];

const edited = (shop: Shop, random: Random): Shop => {
  const made: Shop = Object.fromEntries(Object.entries(shop).map(([section, things]) => [section, { ...things }]));
  for (let round = random.whole(0, 5); round > 0; round--) {
    const section = random.pick(SECTIONS);
    const name = `t${random.whole(1, 5)}`;
    if (random.next() < 0.25) delete made[section]?.[name];
    else made[section] = { ...made[section], [name]: `${random.whole(1, 40)} g` };
    if (made[section] && Object.keys(made[section]).length === 0) delete made[section];
  }
  return made;
};

const written = (shop: Shop): string =>
  Object.entries(shop)
    .map(([section, things]) =>
      [`${section}:`, ...Object.entries(things).map(([name, value]) => `  ${name}: ${value}`)].join('\n'),
    )
    .join('\n\n')
    .concat('\n');

const valuesOf = (shop: Shop | null): Map<string, string> =>
  new Map(
    Object.entries(shop ?? {}).flatMap(([section, things]) =>
      Object.entries(things ?? {}).map(([name, value]) => [`${section} ${name}`, value]),
    ),
  );

describe('a thousand pairs of versions', () => {
  it('say together what each changed, and nothing else', () => {
    const random = seeded(20261128);
    let [clean, conflicts] = [0, 0];
    for (let round = 0; round < 1000; round++) {
      const base = edited(edited({ scales: { bench: '1 g' } }, random), random);
      const [ours, theirs] = [edited(base, random), edited(base, random)];
      const made = merged(written(ours), written(theirs), written(base));
      const [inBase, inOurs, inTheirs] = [base, ours, theirs].map(valuesOf);
      const keys = [...new Set([...inOurs!.keys(), ...inTheirs!.keys(), ...inBase!.keys()])];
      const both = keys.filter((key) => {
        const [was, one, other] = [inBase!.get(key), inOurs!.get(key), inTheirs!.get(key)];
        return one !== other && one !== was && other !== was;
      });
      expect([...(made?.conflicts ?? ['none made'])].sort(), `round ${round}`).toEqual(both.sort());
      if (both.length > 0) {
        conflicts++;
        continue;
      }
      clean++;
      const expected = keys.flatMap((key): [string, string][] => {
        const [was, one, other] = [inBase!.get(key), inOurs!.get(key), inTheirs!.get(key)];
        const value = one === was ? other : one;
        return value === undefined ? [] : [[key, value]];
      });
      const found = valuesOf(parse(made!.text) as Shop);
      expect([...found].sort(), `round ${round}\n${made!.text}`).toEqual(expected.sort());
    }
    expect(Math.min(clean, conflicts)).toBeGreaterThan(100);
  });
});
