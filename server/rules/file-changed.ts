/** A photo or paper that is not the one that was sealed, or is gone: as grave, or taking it away would be the way around its digest. */
import { UNREAD } from '../record/proofs';
import { rule } from './rule';

export const fileChanged = rule({
  code: 'file-changed',
  severity: 'error',
  atOnce: false,
  title: 'a photo or paper that is not the sealed one',
  why: 'A seal holds the digest of every photo and paper that its entries name. A picture that was turned, cut or saved anew is another file: put the one that was sealed back, and give the new one a name of its own. One that is gone is as grave: nothing can be shown by it any more. So photos and papers are kept where the pages are.',
  wrong:
    '2026-05-04\nreceive A 20.00 g\n  photo scale-57.jpg\n\n2026-06-01\nseal 2026-05-31 digest s1-89a65693e41bd39326f33d644864823dc999256b785f5a328fb4678194560584\n  file "scale-57.jpg" digest sha256-9a71f2c04be1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b8550\n  marks 2026-05-04 56c5c25e',
  right:
    '2026-05-04\nreceive A 20.00 g\n  photo scale-57.jpg\n\n2026-06-01\nseal 2026-05-31 digest s1-153fcffa7e1fac21f4599a6883b2299880055047adad1bab1a34cf243e5206b2\n  file "scale-57.jpg" digest sha256-3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855a\n  marks 2026-05-04 56c5c25e',
  files: {
    'scale-57.jpg': 'sha256-3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855a',
  },
  record: function* ({ files }) {
    for (const { named, digest, sealed, renamed } of files) {
      if (!sealed || sealed.digest === digest) continue;
      const { upTo } = sealed.seal;
      const gone = `${named.name} is gone, which was sealed up to ${upTo}`;
      yield {
        place: named.place,
        says:
          renamed !== undefined
            ? `${gone}: ${renamed}, beside it, is the same file. Give it back the name that the entry has.`
            : digest === null
              ? `${gone}: it does not lie beside this page. Put it back there; a page that is moved takes its files along.`
              : digest === UNREAD
                ? `${named.name}, which was sealed up to ${upTo}, cannot be read: it leads out of the folder, is too large or locked. Nothing is shown by it so: put the file itself there.`
                : `${named.name} is not the file that was sealed up to ${upTo}. Put that one back.`,
        related: [{ place: sealed.seal.entry.head, says: `the seal of ${sealed.seal.upTo}` }],
      };
    }
  },
});
