/** A photo or paper that is not there; of a sealed one that is gone `file-changed` tells. */
import { rule } from './rule';

export const fileMissing = rule({
  code: 'file-missing',
  severity: 'warning',
  atOnce: false,
  title: 'a photo or paper that is not there',
  why: 'A picture or a slip that an entry refers to is its proof. It belongs beside the page, under the name that the entry gives.',
  wrong: '2026-05-04\nreceive A 20.00 g\n  photo scale-57.jpg',
  right: '2026-05-04\nreceive A 20.00 g\n  photo scale-75.jpg',
  files: {
    'scale-57.jpg': null,
    'scale-75.jpg': 'sha256-3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855a',
  },
  record: function* ({ files }) {
    for (const { named, digest, sealed } of files) {
      if (digest === null && !sealed)
        yield { place: named.place, says: `There is no file ${named.name} beside this page.` };
    }
  },
});
