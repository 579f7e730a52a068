/** Solves `rows` x = `right` by Gaussian elimination with partial pivoting. Throws when the rows do not decide x. */
export const solveLinear = (rows: readonly (readonly number[])[], right: readonly number[]): number[] => {
  const count = right.length;
  const a = rows.map((row, i) => [...row, right[i]!]);
  for (let k = 0; k < count; k++) {
    let pivot = k;
    for (let i = k + 1; i < count; i++) if (Math.abs(a[i]![k]!) > Math.abs(a[pivot]![k]!)) pivot = i;
    [a[k], a[pivot]] = [a[pivot]!, a[k]!];
    const own = a[k]!;
    if (own[k] === 0) throw new Error("the equations do not decide every unknown");
    for (let i = k + 1; i < count; i++) {
      const row = a[i]!;
      const share = row[k]! / own[k]!;
      if (share !== 0) for (let j = k; j <= count; j++) row[j]! -= share * own[j]!;
    }
  }
  const x = Array.from({ length: count }, () => 0);
  for (let i = count - 1; i >= 0; i--) {
    let rest = a[i]![count]!;
    for (let j = i + 1; j < count; j++) rest -= a[i]![j]! * x[j]!;
    x[i] = rest / a[i]![i]!;
  }
  return x;
};
