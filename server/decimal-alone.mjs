/**
 * Leaves out of a bundle what the library of decimal numbers has of circles, hyperbolas, logarithms and other bases: no sum of the trade asks for
 * them, and they would be a third of it. A test looks that no source asks for one of them; where the library is not as it was, the build stops.
 */
import { readFileSync } from 'node:fs';

const CIRCLES = ['sin', 'cos', 'tan', 'asin', 'acos', 'atan'];

/** The names of what is left out. */
export const LEFT_OUT = [...CIRCLES, ...CIRCLES.map((name) => `${name}h`), 'atan2'];

export const decimalAlone = {
  name: 'decimal-alone',
  setup({ onLoad }) {
    onLoad({ filter: /node_modules[\\/]decimal\.js[\\/]decimal\.mjs$/ }, ({ path }) => ({
      contents: [...LEFT_OUT.flatMap(partsOf), ...OF_PI, ...OTHERS]
        .reduce(without, readFileSync(path, 'utf8'))
        // Powers of ten by whole numbers want none of its thousand digits.
        .replace(/^( {2}LN10 = '\d\.\d{20})\d+/m, '$1'),
    }));
  },
};

/** The method, the function of the same name, and the line that gives that to the outside. */
const partsOf = (name) => [
  // Of two numbers there is no method.
  ...(name === 'atan2' ? [] : [String.raw`^P\.\w+ = P\.${name} = function \(\) \{$.*?^\};$`]),
  String.raw`^function ${name}\(.*?^\}$`,
  String.raw`^ {2}Decimal\.${name} = ${name};`,
];

const OF_PI = [
  String.raw`^ {2}PI = '[\d.]+',$`,
  String.raw`^ {2}PI_PRECISION = PI\.length - 1,$`,
  String.raw`^PI = new Decimal\(PI\);$`,
];

/** Logarithms, roots of three, other bases and fractions, by the names that they are asked by. */
export const ALSO_LEFT_OUT = [
  'clamp',
  'clampedTo',
  'toNearest',
  'cbrt',
  'exp',
  'ln',
  'log',
  'toBinary',
  'toFraction',
  'toHex',
  'toOctal',
  'log2',
  'log10',
  'hypot',
];

const OTHERS = [
  ...['cubeRoot', 'logarithm', 'naturalExponential', 'naturalLogarithm', 'toBinary', 'toFraction', 'toHexadecimal'].map(
    (name) => String.raw`^P\.${name} = .*?^\};$`,
  ),
  String.raw`^P\.toOctal = .*?^\};$`,
  ...['cbrt', 'exp', 'hypot', 'ln', 'log', 'log2', 'log10', 'random'].flatMap((name) => [
    String.raw`^function ${name}\(.*?^\}$`,
    String.raw`^ {2}Decimal\.${name} = ${name};`,
  ]),
  // The same sums as functions of the library itself: ours are asked of a number.
  ...[
    'abs',
    'add',
    'ceil',
    'clamp',
    'div',
    'floor',
    'max',
    'min',
    'mod',
    'mul',
    'pow',
    'round',
    'sign',
    'sqrt',
    'sub',
  ].map((name) => String.raw`^ {2}Decimal\.${name} = ${name};`),
  ...['sum', 'trunc'].map((name) => String.raw`^ {2}Decimal\.${name} = ${name};`),
  ...['clampedTo', 'toNearest'].map((name) => String.raw`^P\.${name} = .*?^\};$`),
];

const without = (text, part) => {
  const [found, ...more] = text.match(new RegExp(part, 'gms')) ?? [];
  if (found === undefined || more.length > 0) throw new Error(`decimal.js is not as it was: ${part}`);
  return text.replace(found, '');
};
