import { describe, expect, test } from 'vitest';
import { readWorkshop } from '../../server/workshop/read';
import { check } from './marked';

/** The text after taking the first fix of the first finding. */
function mended(text: string): string {
  const { problems } = readWorkshop('w', text);
  const [edit] = problems[0]!.fixes![0]!.edits;
  return text.slice(0, edit!.at.start) + edit!.text + text.slice(edit!.at.end);
}

describe('what a workshop file can get wrong', () => {
  test('a section that there is not', () => {
    check(`
scale:
#^^^^ workshop-unknown-key: Did you mean \`scales\`?
  bench: 0.01 g
tools:
#^^^^ workshop-unknown-key: no section of a workshop file. Known are \`shop\`, \`scales\`
  tongs: 2
`);
    expect(mended('scale:\n  bench: 0.01 g')).toBe('scales:\n  bench: 0.01 g');
  });

  test('a key that there is not', () => {
    check(`
scales:
  bench:
    divison: 0.01 g
#   ^^^^^^^ workshop-unknown-key: Did you mean \`division\`?
    colour: grey
#   ^^^^^^ workshop-unknown-key: no key of a scale. Known are \`division\`, \`capacity\`
limits:
  usual-loss: 3 %
# ^^^^^^^^^^ workshop-unknown-key: Did you mean \`usual loss\`?
`);
    expect(mended('scales:\n  b:\n    divison: 1 g')).toBe('scales:\n  b:\n    division: 1 g');
  });

  test('a value of another kind', () => {
    check(`
scales:
  bench: fine
#        ^^^^ workshop-wrong-value: \`fine\` is not a weight: write it like \`38.45 g\`.
  other:
    verified: maybe
#             ^^^^^ workshop-wrong-value: \`maybe\` is not \`yes\` or \`no\`.
    class: 2
#          ^ workshop-wrong-value
    checked: 2026-02-30
#            ^^^^^^^^^^ workshop-wrong-value: is not a date
    division: [0.01 g]
#             ^^^^^^^^ workshop-wrong-value: This is not a weight
crucibles:
  C1: 250 g
#     ^^^^^ workshop-wrong-value: \`g\` does not measure a volume
parties:
  high-fell: customar
#            ^^^^^^^^ workshop-wrong-value
shop: Tarn End
#     ^^^^^^^^ workshop-wrong-value: Here stand keys
`);
    expect(mended('parties:\n  p: Customer')).toBe('parties:\n  p: customer');
    expect(mended('scales:\n  s:\n    verified: true')).toBe('scales:\n  s:\n    verified: yes');
  });

  test('a unit that is missing, not known, or not of the kind', () => {
    check(`
containers:
  tray-1: 38.45
#         ^^^^^ workshop-missing-unit: Is it \`38.45 g\`?
  tray-2: 38.45 gms
#         ^^^^^^^^^ workshop-wrong-value: Did you mean \`g\`?
  tray-3: 38.45 stone
#         ^^^^^^^^^^^ workshop-wrong-value: \`stone\` is no unit
  tray-4: 38.45 gr
#         ^^^^^^^^ workshop-which-unit: the grain
furnaces:
  F1: 3
#     ^ workshop-missing-unit: Is it \`3 kW\`?
  F2: 3 kw
#     ^^^^ workshop-wrong-value: Did you mean \`kW\`?
materials:
  ours:
    bulk density: 2.3 g/cc
#                 ^^^^^^^^ workshop-wrong-value: Did you mean \`g/cm3\`?
`);
    expect(mended('containers:\n  a: 38.450')).toBe('containers:\n  a: 38.450 g');
  });

  test('a number that is none of the language', () => {
    check(`
containers:
  a: -38.45 g
#    ^^^^^^^^ workshop-wrong-value: no sign
  b: 38,45 g
#    ^^^^^^^ workshop-wrong-value: with a point
  c: 1,200 g
#    ^^^^^^^ workshop-wrong-value: with a point
  d: .5 g
#    ^^^^ workshop-wrong-value
  e: 1e3 g
#    ^^^^^ workshop-wrong-value: \`e3 g\` is no unit
  f: 0 g
#    ^^^ workshop-wrong-value: is nought
  g: 12345678901234567890 g
#    ^^^^^^^^^^^^^^^^^^^^^^ workshop-wrong-value: digits
  h: ~38 g
#    ^^^^^ workshop-wrong-value: guess
`);
    expect(mended('containers:\n  a: 38,45 g')).toBe('containers:\n  a: 38.45 g');
    expect(readWorkshop('w', 'containers:\n  a: 1,200 g').problems[0]!.fixes).toBeUndefined();
  });

  test('a figure out of all sense', () => {
    check(`
scales:
  bench:
    division: 0.01 g
    capacity: 0.01 g
#             ^^^^^^ workshop-wrong-value: more than one step
    interval: 0.001 g
#             ^^^^^^^ workshop-wrong-value: no finer than the display
  fine:
    capacity: 60 g
#             ^^^^ workshop-wrong-value: least load is below the capacity
    smallest: 70 g
furnaces:
  F1:
    highest: 12500 °C
#            ^^^^^^^^ workshop-wrong-value: No furnace
materials:
  ours:
    bulk density: 230 g/mL
#                 ^^^^^^^^ workshop-wrong-value: Nothing is as heavy
limits:
  coverage: 20
#           ^^ workshop-wrong-value: a number from 1 to 4
  fill: 75..67 %
#       ^^^^^^^^ workshop-wrong-value: goes down
  closure: 101 %
#          ^^^^^ workshop-above-whole
  cusum slack: 3
#              ^ workshop-wrong-value: a number from 0.1 to 2
  ewma weight: 0 %
#              ^^^ workshop-wrong-value: a share from 1 % to 100 %
`);
  });

  test('a tare above what every scale carries', () => {
    check(`
scales:
  bench: { division: 0.01 g, capacity: 600 g }
  fine: { division: 0.001 g, capacity: 60 g }
containers:
  bucket: 612 g
#         ^^^^^ workshop-wrong-value: more than any scale here carries
  tray: 412 g
`);
    check(`
scales:
  bench: { division: 0.01 g, capacity: 600 g }
  platform: 1 g
containers:
  bucket: 612 g
`);
  });

  test('a material that nobody knows', () => {
    check(`
materials:
  ours:
    from: black-sand
  theirs:
    from: balck-sand
#         ^^^^^^^^^^ workshop-unknown-material: Did you mean \`black-sand\`?
  other:
    composition:
      SiO2: 40 %
      AU: 1 %
#     ^^ workshop-unknown-material: no formula and no symbol of a metal. Did you mean \`Au\`?
recipes:
  shop-flux:
    borax-glass: 2 parts
    soda-ahs: 1 part
#   ^^^^^^^^ workshop-unknown-material: Did you mean \`soda-ash\`?
    ours: 1 part
limits:
  usual loss:
    melt: 0.5 %
    melt ours: 8 %
    melt grey-sand: 8 %
#   ^^^^^^^^^^^^^^ workshop-unknown-material
    mlet: 0.5 %
#   ^^^^ workshop-unknown-key: Did you mean \`melt\`?
    assay: 0.5 %
#   ^^^^^ workshop-unknown-key: no kind of step
`);
    expect(mended('limits:\n  usual loss:\n    melt balck-sand: 3 %')).toContain('melt black-sand: 3 %');
  });

  test('more than the whole', () => {
    check(`
materials:
  ours:
    composition: { SiO2: 60 %, Fe3O4: 40.5 % }
#                ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ workshop-above-whole: comes to 100.5 %
  theirs:
    composition: { SiO2: 40..60 %, Fe3O4: 55..70 % }
recipes:
  cover: { borax-glass: 70 %, boric-acid: 40 % }
#        ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ workshop-above-whole: come to 110 %
  less: { borax-glass: 70 %, boric-acid: 20 % }
#       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ workshop-wrong-value: come to 90 %
`);
  });

  test('parts counted in two ways', () => {
    check(`
recipes:
  mixed:
    borax-glass: 5 parts
    boric-acid: 70 %
#               ^^^^ workshop-wrong-value: write all of a recipe in one way
`);
  });

  test('a name given twice: the first counts, and both places are named', () => {
    const { problems, workshop } = check(`
containers:
  tray-1: 38.45 g
  tray-1: 18.20 g
# ^^^^^^ workshop-name-twice: stands here twice
`);
    expect(problems[0]!.related![0]!.place.start).toBe(15);
    expect(workshop.containers.get('tray-1')!.tareGrams!.toString()).toBe('38.45');
  });

  test('a name that the journal cannot bear', () => {
    check(`
crucibles:
  C 4: 250 mL
# ^^^ workshop-odd-name: only in quotes
  14k: 250 mL
# ^^^ workshop-odd-name: only in quotes
  "C 5": 250 mL
  14k-pot: 250 mL
  a\u200bb: 250 mL
# ^^^ workshop-odd-name: \`a\\u200bb\` is no name
measures:
  Spoon: 14 g
# ^^^^^ workshop-odd-name: small letters
  kg: 14 g
# ^^ workshop-odd-name: is a unit already
`);
    expect(mended('crucibles:\n  C 4: 250 mL')).toBe('crucibles:\n  "C 4": 250 mL');
  });

  test('terms', () => {
    check(`
parties:
  harbour-refiner:
    role: refiner
    terms:
      spring:
#     ^^^^^^ workshop-wrong-value: is no date
        pays: { Au: 98 % }
      2026-03-01:
        pays: { Au: 985 % }
#                   ^^^^^ workshop-above-whole
        less: { gold: 0.3 % }
#               ^^^^ workshop-unknown-key: no symbol of a metal
        charges:
          melting: 45.00
#                  ^^^^^ workshop-wrong-value
          refining: 0.30 USD/g of everything
#                   ^^^^^^^^^^^^^^^^^^^^^^^^ workshop-wrong-value: of \`received\`, \`melted\`, \`value\` or a metal
        days: 12 weeks
#             ^^^^^^^^ workshop-wrong-value
        bonus: 3 %
#       ^^^^^ workshop-unknown-key: key of dated terms
`);
  });
});
