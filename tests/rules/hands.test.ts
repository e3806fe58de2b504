/** Who did it, and who saw it: initials that the workshop file knows. */
import { expect, it } from 'vitest';
import { pageWorkspace, said } from '../support/workspace';

const PAGE = '2026-05-04\nreceive A 20.00 g, hand AB\n  witness CE\n';

it('initials are asked about where the workshop file says who works here, and only there', () => {
  expect(said(pageWorkspace(PAGE))).toEqual([]);
  expect(said(pageWorkspace(PAGE, 'hands:\n  AB: A. Beck\n  CD: C. Dale\n'))).toEqual(['not-in-workshop at "CE"']);
  expect(said(pageWorkspace(PAGE, 'hands:\n  AB: A. Beck\n  CE: C. Esk\n'))).toEqual([]);
});
