/** Too little of what brings silver or gold down: told by the bench (`advice`). */
import { benchRule } from './bench';

export const precipitantShort = benchRule({
  code: 'precipitant-short',
  severity: 'warning',
  atOnce: false,
  title: 'too little to bring the silver or gold down',
  why: 'A gram of copper brings down 3.4 g of silver, a gram of salt 1.85 g as chloride, a gram of copperas 0.24 g of gold; no more, however long it stands. What is over stays in the solution and goes where that goes. Add more until a drop of salt water clouds the clear liquid no more, or a test finds no more gold, and keep ammonia away from it.',
  wrong:
    '2026-05-04\nreceive A 100.0 g\nassay A by fire\n  Ag 99.0 %\ndissolve V1\n  in A\n  add nitric-acid 150 mL\n  out L 1.00 L solution\nplan drop R1\n  in L\n  add copper 20.0 g',
  right:
    '2026-05-04\nreceive A 100.0 g\nassay A by fire\n  Ag 99.0 %\ndissolve V1\n  in A\n  add nitric-acid 150 mL\n  out L 1.00 L solution\nplan drop R1\n  in L\n  add copper 34.0 g',
  source:
    '2Ag+ + Cu = 2Ag + Cu2+; Ag+ + Cl- = AgCl; Au3+ + 3Fe2+ = Au + 3Fe3+: IUPAC atomic weights, equations from memory',
});
