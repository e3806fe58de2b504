/** Amalgam charged into a fire that is no retort. */
import { benchRule } from './bench';

export const mercuryToFire = benchRule({
  code: 'mercury-to-fire',
  severity: 'error',
  atOnce: false,
  title: 'amalgam to the fire without a retort',
  why: 'Mercury boils at 357 °C, and its vapour poisons before it is noticed. Amalgam goes into a closed retort, outdoors or under licensed practice, before any other heat, and local codes come first. Where it was retorted the journal should say so; then the mercury that came back can be weighed against what went in.',
  wrong: '2026-05-04\nreceive AM-1 60.0 g\n  material amalgam\nmelt M1\n  in AM-1\n  out B1 24.0 g button',
  right:
    '2026-05-04\nreceive AM-1 60.0 g\n  material amalgam\nretort T1\n  in AM-1\n  out AM-1s 24.15 g sponge\nmelt M1\n  in AM-1s\n  out B1 24.10 g button',
  source:
    'retorting guides: never straight into the furnace; retorted metal keeps up to 1.5 % mercury: Rose, The Metallurgy of Gold',
});
