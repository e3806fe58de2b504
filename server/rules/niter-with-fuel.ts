/** Niter beside sulphide, carbon or flour in amounts that can run away. */
import { benchRule } from './bench';

export const niterWithFuel = benchRule({
  code: 'niter-with-fuel',
  severity: 'warning',
  atOnce: false,
  title: 'niter beside what it burns',
  why: 'Niter gives its oxygen to sulphide, carbon, flour and wax all at once when it is hot enough, and throws the charge out. Roast or burn the feed first. Where niter must be used: small amounts one after another, never ground together, the crucible under half full, slow heat, face and hands covered, nobody near. Local codes and licensed practice come first.',
  wrong:
    '2026-05-04\nreceive A 50.0 g\n  material sulphide-concentrate\nmelt M1\n  in A\n  add niter 30.0 g\n  add soda-ash 20.0 g\n  add borax-glass 20.0 g\n  out S 90.0 g slag',
  right:
    '2026-05-04\nreceive A 50.0 g\n  material black-sand\nmelt M1\n  in A\n  add niter 3.0 g\n  add soda-ash 20.0 g\n  add borax-glass 50.0 g\n  out S 115.0 g slag',
  source:
    'deflagration: Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904; three parts in a hundred of each: a guess on the safe side, from memory',
});
