/** A lot that leaves one entry at 58.16 g and enters the next at 58.61 g: for tests of what carries a finding to its reader. */

const MELT = `receive A1
  61.37 g on bench

melt M1
  in A1 61.37 g on bench
  out B1 58.16 g button on bench
  out 3.1 g slag on bench
`;

const CUPEL = `cupel K1
  in B1 58.61 g on bench
  out C1 54.73 g bead on bench
`;

/** On one page. */
export const SLIP_PAGE = `2026-05-04\n\n${MELT}\n${CUPEL}`;

/** The same over two pages. */
export const SLIP_PAGES = { may: `2026-05-04\n\n${MELT}`, june: `2026-06-01\n\n${CUPEL}` } as const;
