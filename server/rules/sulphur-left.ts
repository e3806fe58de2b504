/** A sulphide feed melted with nothing for its sulphur. */
import { benchRule } from './bench';

export const sulphurLeft = benchRule({
  code: 'sulphur-left',
  severity: 'warning',
  atOnce: false,
  title: 'sulphides that nothing takes up',
  why: 'Sulphides that are only melted with flux sink as matte below the slag, and matte holds gold. Roast the feed dead first; or charge iron, which takes the sulphur; or niter, a little at a time. All of them give off harmful fume: outdoors or below a hood, as local codes have it. Who makes matte on purpose writes it: `out 80 g matte`.',
  wrong:
    '2026-05-04\nreceive A 50.0 g\n  material sulphide-concentrate\nmelt M1\n  in A\n  add soda-ash 40.0 g\n  add borax-glass 20.0 g\n  out S 88.0 g slag',
  right:
    '2026-05-04\nreceive A 50.0 g\n  material sulphide-concentrate\nmelt M1\n  in A\n  add iron-nails 15.0 g\n  add soda-ash 40.0 g\n  add borax-glass 20.0 g\n  out 46.0 g matte\n  out S 65.0 g slag',
  source:
    'roast, niter or iron: Beringer & Beringer, A Text-book of Assaying, 9th ed. 1904; a fiftieth of the charge as the least: a guess',
});
