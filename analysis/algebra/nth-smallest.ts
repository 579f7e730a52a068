/**
 * The n-th smallest value, counted from 0, in linear time; the values are put in another order on the way (Hoare's
 * selection, 1961, from memory). NaN where there is none.
 */
export const nthSmallest = (values: Float64Array, n: number): number => {
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i > j) break;
      const kept = values[i]!;
      values[i++] = values[j]!;
      values[j--] = kept;
    }
    if (n <= j) high = j;
    else if (n >= i) low = i;
    else break;
  }
  return values[n] ?? Number.NaN;
};
