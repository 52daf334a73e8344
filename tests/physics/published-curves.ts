// Published resistance tables of NTC sensors, as test data. Each names its source; none says which appliance uses it.

import type { SensorPoint, SteinhartHart } from '../../src/physics/steinhart-hart.js';
import type { RatioForm } from '../../src/physics/ratio-form.js';
import type { TableRow } from '../../src/physics/resistance-table.js';

const every5 = [-40, -35, -30, -25, -20, -15, -10, -5, 0, 5, 10, 15, 20, 25, 30, 35, 40];

const rows = (ohms: number[], temperatures = every5): SensorPoint[] =>
  temperatures.map((temperatureC, i) => ({ temperatureC, resistanceOhm: ohms[i]! }));

/** Curve A, 5 kohm. Vishay document 29094 (17-Nov-17), page 5: nominal, min, max, +-%, +-K. */
export const curveAPrinted: [number, number, number, number, number, number][] = [
  [-40, 167137, 160619, 173655, 3.9, 0.59],
  [-35, 120661, 116177, 125146, 3.72, 0.58],
  [-30, 88066, 84947, 91185, 3.54, 0.57],
  [-25, 64950, 62759, 67141, 3.37, 0.56],
  [-20, 48381, 46827, 49934, 3.21, 0.55],
  [-15, 36382, 35270, 37494, 3.06, 0.54],
  [-10, 27609, 26807, 28411, 2.91, 0.54],
  [-5, 21134, 20550, 21718, 2.76, 0.53],
  [0, 16312, 15884, 16740, 2.62, 0.51],
  [5, 12691, 12375, 13007, 2.49, 0.5],
  [10, 9948, 9714, 10183, 2.36, 0.49],
  [15, 7856, 7680, 8031, 2.24, 0.48],
  [20, 6246, 6114, 6379, 2.12, 0.47],
  [25, 5000, 4900, 5100, 2.0, 0.46],
  [30, 4028, 3943, 4113, 2.11, 0.5],
  [35, 3265, 3192, 3337, 2.22, 0.54],
  [40, 2662, 2600, 2724, 2.33, 0.58],
];
export const curveA: TableRow[] = curveAPrinted.map(([temperatureC, resistanceOhm, minOhm, maxOhm]) => ({
  temperatureC,
  resistanceOhm,
  minOhm,
  maxOhm,
}));

/** Curve B, "B = 3977" family. Vishay document 29049: coefficients of both directions. */
export const curveB: RatioForm = {
  toRatio: [-14.6337, 4791.842, -115334, -3.730535e6],
  fromRatio: [3.354016e-3, 2.56985e-4, 2.620131e-6, 6.383091e-8],
  r25Ohm: 10_000,
};

/** Curve C, 10 kohm, B25/85 3435. NCPxxXH103 table, Linux kernel drivers/hwmon/ntc_thermistor.c. */
export const curveC = rows([
  247565, 181742, 135128, 101678, 77373, 59504, 46222, 36244, 28674, 22878, 18399, 14910, 12169, 10000, 8271, 6883,
  5762,
]);

/** Curve D, 10 kohm. B57330V2103 table, same kernel file. */
export const curveD = rows([
  190030, 145360, 112060, 87041, 68104, 53665, 42576, 34001, 27326, 22096, 17973, 14703, 12090, 10000, 8311, 6941, 5825,
]);

/** Curve E, 3 kohm (44005 class). Coefficients: RST VW2100 manual, appendix E; Campbell CDM-VW300 manual, F.1.1. */
export const curveE: SteinhartHart = { a: 1.4051e-3, b: 2.369e-4, c: 1.019e-7 };

/** Curve F, material type 1, as a 5 kohm part. Amphenol Thermometrics Reference Guide Rev C (Nov 2014): R/R25. */
export const curveFRatios = rows([
  33.36, 24.11, 17.61, 12.99, 9.681, 7.281, 5.525, 4.229, 3.264, 2.539, 1.99, 1.571, 1.249, 1, 0.8056, 0.653, 0.5325,
]);
const curveF = curveFRatios.map((row) => ({ ...row, resistanceOhm: row.resistanceOhm * 5000 }));
export const curveFForm: RatioForm = {
  toRatio: [-14.195756, 4407.4785, -5165.873, -1.4017368e7],
  fromRatio: [3.3539438e-3, 2.5646095e-4, 2.5158166e-6, 1.0503069e-7],
  r25Ohm: 5000,
};

/** Table C-1 of the Campbell 109SS manual, 10K3MCD1, 10 kohm: the one with -18 degC. */
export const curveG = rows(
  [336103.2, 176804.8, 130307.6, 97006.9, 86439.2, 72911.1, 55303.9, 42316.7, 32650.9, 31030.8],
  [-40, -30, -25, -20, -18, -15, -10, -5, 0, 1],
);

export const tables = { A: curveA, C: curveC, D: curveD, F: curveF };

/** The rows at these temperatures. */
export function at(table: readonly TableRow[], ...temperatures: number[]): TableRow[] {
  return temperatures.map((temperatureC) => {
    const row = table.find((candidate) => candidate.temperatureC === temperatureC);
    if (!row) throw new Error(`no row at ${temperatureC}`);
    return row;
  });
}
