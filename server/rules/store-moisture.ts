/**
 * Moisture that wood comes to in air of this temperature and humidity, in % of its oven-dry mass.
 * Four-term equation of Hailwood and Horrobin in its Celsius form, Wood Handbook (US Forest Products Laboratory), eq. 4-5.
 * Check values: 201 cells of the Handbook's table 4-2 in tests/published/emc-table.ts, to 0.07 % moisture.
 */
export const moistureAtEquilibrium = (temperatureC: number, humidityPercent: number): number => {
  const t = temperatureC;
  const h = humidityPercent / 100;
  const W = 349 + 1.29 * t + 0.0135 * t * t;
  const K = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  const K1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  const K2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  const Kh = K * h;
  const hydrated = (K1 * Kh + 2 * K1 * K2 * Kh * Kh) / (1 + K1 * Kh + K1 * K2 * Kh * Kh);
  return (1800 / W) * (Kh / (1 - Kh) + hydrated);
};
