import { placeTerms } from "./light-field.ts";

/**
 * Takes a smooth light (a quadratic over the photo) off what cells show: makes, from their terms (`placeTerms` a cell), the function
 * that leaves of their values what no such light explains, by least squares. Null where the cells are too few or too much
 * in line to tell. The terms are made orthonormal once (modified Gram and Schmidt, Golub and Van Loan 5.2, from memory).
 */
export const smoothLightOff = (terms: Float64Array): ((values: Float64Array) => Float64Array) | null => {
  const count = terms.length / placeTerms;
  const columns: Float64Array[] = [];
  for (let k = 0; k < placeTerms; k++) {
    const column = new Float64Array(count);
    for (let i = 0; i < count; i++) column[i] = terms[i * placeTerms + k]!;
    if (!toUnitLength(column, 0)) return null;
    for (const one of columns) takeOff(column, one);
    if (!toUnitLength(column, nil)) return null;
    columns.push(column);
  }
  return (values) => {
    const left = values.slice();
    for (const one of columns) takeOff(left, one);
    return left;
  };
};

/** What is left of a column of unit length when it holds nothing new: rounding. */
const nil = 1e-12;

const takeOff = (values: Float64Array, unit: Float64Array): void => {
  let along = 0;
  for (let i = 0; i < unit.length; i++) along += values[i]! * unit[i]!;
  for (let i = 0; i < unit.length; i++) values[i]! -= along * unit[i]!;
};

const toUnitLength = (values: Float64Array, least: number): boolean => {
  let square = 0;
  for (let i = 0; i < values.length; i++) square += values[i]! ** 2;
  const length = Math.sqrt(square);
  if (!(length > least)) return false;
  for (let i = 0; i < values.length; i++) values[i]! /= length;
  return true;
};
