/** Who did it, and who saw it: initials that the workshop file knows. */
import { expect, it } from 'vitest';
import { pageWorkspace, said } from '../support/workspace';

const PAGE = '2026-05-04\nreceive A 20.00 g, hand AB\n  witness CE\n';

it('initials are asked about where the workshop file says who works here, and only there', () => {
  expect(said(pageWorkspace(PAGE))).toEqual([]);
  expect(said(pageWorkspace(PAGE, 'hands:\n  AB: A. Beck\n  CD: C. Dale\n'))).toEqual(['not-in-workshop at "CE"']);
  expect(said(pageWorkspace(PAGE, 'hands:\n  AB: A. Beck\n  CE: C. Esk\n'))).toEqual([]);
});

it('a witness is another than the hand, under whatever initials', () => {
  const hands = 'hands:\n  AB: A. Beck\n  A1: A. Beck\n  CD: C. Dale\n';
  const told = (line: string): string[] => said(pageWorkspace(`2026-05-04\n${line}\n`, hands));
  expect(told('receive A 20.00 g, hand AB, witness AB')).toEqual(['witness-is-hand at "AB"']);
  expect(told('receive A 20.00 g, hand AB\n  witness A1')).toEqual(['witness-is-hand at "A1"']);
  // Said of a line, of all lines, or of both.
  expect(told('receive A 20.00 g\ncast C, hand AB\n  in A\n  out B 19.98 g bar, witness AB')).toEqual([
    'witness-is-hand at "AB"',
  ]);
  expect(told('receive A 20.00 g, hand AB, witness CD')).toEqual([]);
  expect(told('receive A 20.00 g\ncast C, hand AB\n  in A\n  out B 19.98 g bar, hand CD, witness AB')).toEqual([]);
});

it('a seal is neither taken back nor corrected, and what bears no name cannot be', () => {
  const told = (line: string): string[] =>
    said(pageWorkspace(`2026-05-04\nreceive A 20.00 g\n\n2026-06-02\n${line}\n`));
  expect(told('void seal 2026-05-31, because too early')).toEqual([
    'correction-amiss at "void seal 2026-05-31, because too early"',
  ]);
  expect(told('void note the tray')).toContain('correction-amiss at "void note the tray"');
  expect(told('void receive A, because entered twice')).toEqual([]);
});
