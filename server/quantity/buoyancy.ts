/**
 * What the air takes off a weight. At the bench it is left out: gold reads high by nine parts in 100 000, less than a 0.01 g display shows
 * of 100 g. It is for milligram beads, check weights and weighing in water.
 */

/** Densities in g/cm³. */
export interface Air {
  readonly air: number;
  /** Of the weights that the scale is adjusted with. */
  readonly reference: number;
}

/** The conventions that scales are adjusted to: steel weights of 8.0 g/cm³ in air of 0.0012 g/cm³ (OIML R 111, conventional mass). */
export const CONVENTIONAL_AIR: Air = { air: 0.0012, reference: 8.0 };

/** True mass over reading, for a sample of this density in g/cm³: (1 − ρair/ρref)/(1 − ρair/ρsample). */
export const buoyancyFactor = (sampleDensity: number, { air, reference }: Air = CONVENTIONAL_AIR): number =>
  (1 - air / reference) / (1 - air / sampleDensity);

export interface Weather {
  readonly celsius: number;
  readonly hectopascal: number;
  /** Relative humidity. */
  readonly humidityPercent: number;
}

const KELVIN = 273.15;
export const HECTOPASCAL_PER_MMHG = 1.33322387415;

/**
 * Air density in kg/m³, simplified form of a national laboratory's note on buoyancy, which calls it good to 4 parts in 10 000. Against CIPM-2007
 * that holds from 18 to 30 °C; at 5 °C and damp it is ten times worse, so a cold shop takes `airDensityCipm`.
 */
export const airDensity = ({ celsius, hectopascal, humidityPercent }: Weather): number =>
  (0.348444 * hectopascal - humidityPercent * (0.00252 * celsius - 0.020582)) / (KELVIN + celsius);

/** Air density in kg/m³, approximation of OIML R 111-1 Annex E (from memory). */
export const airDensityOiml = ({ celsius, hectopascal, humidityPercent }: Weather): number =>
  (0.34848 * hectopascal - 0.009 * humidityPercent * Math.exp(0.061 * celsius)) / (KELVIN + celsius);

/** Air density in kg/m³ by the older equation of NIST SOP 2 (Jones); coefficients from memory, held to the procedure's own example. */
export const airDensityJones = ({ celsius, hectopascal, humidityPercent }: Weather): number => {
  const kelvin = KELVIN + celsius;
  const saturationMmHg = 1.3146e9 * Math.exp(-5315.56 / kelvin);
  const pressureMmHg = hectopascal / HECTOPASCAL_PER_MMHG;
  return (0.4646 * (pressureMmHg - 0.003796 * humidityPercent * saturationMmHg)) / kelvin;
};

const CARBON_DIOXIDE_USUAL = 0.0004;

/** Air density in kg/m³ by CIPM-2007 (Picard and others, Metrologia 45 (2008) 149); carbon dioxide as a mole fraction. */
export const airDensityCipm = (weather: Weather, carbonDioxide = CARBON_DIOXIDE_USUAL): number => {
  const pascal = weather.hectopascal * 100;
  const kelvin = KELVIN + weather.celsius;
  const vapour = vapourFraction(weather.celsius, pascal, weather.humidityPercent / 100);
  const dryOverGasConstant = 3.48374e-3 + 1.4446e-3 * (carbonDioxide - CARBON_DIOXIDE_USUAL);
  const compressibility = compressibilityOf(weather.celsius, pascal, vapour);
  return ((dryOverGasConstant * pascal) / (compressibility * kelvin)) * (1 - 0.378 * vapour);
};

/** Mole fraction of water vapour. */
const vapourFraction = (celsius: number, pascal: number, humidity: number): number => {
  const kelvin = KELVIN + celsius;
  const saturation = Math.exp(1.2378847e-5 * kelvin ** 2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin);
  const enhancement = 1.00062 + 3.14e-8 * pascal + 5.6e-7 * celsius ** 2;
  return (humidity * enhancement * saturation) / pascal;
};

const compressibilityOf = (celsius: number, pascal: number, vapour: number): number => {
  const ratio = pascal / (KELVIN + celsius);
  const dry = 1.58123e-6 - 2.9331e-8 * celsius + 1.1043e-10 * celsius ** 2;
  const first = (5.707e-6 - 2.051e-8 * celsius) * vapour;
  const second = (1.9898e-4 - 2.376e-6 * celsius) * vapour ** 2;
  return 1 - ratio * (dry + first + second) + ratio ** 2 * (1.83e-11 - 0.765e-8 * vapour ** 2);
};
