/** A line of colour differences: how far photos of one face differ, and what is agreed. */
export const LimitScale = (props: { limit: number; tolerance: number }) => {
  const { limit, tolerance } = props;
  const whole = 1.25 * Math.max(limit, tolerance);
  const along = (deltaE: number) => (320 * deltaE) / whole;
  const agreedRight = tolerance > 0.75 * whole;
  return (
    <svg
      class="limit-scale"
      viewBox="0 0 320 46"
      role="img"
      aria-label={`Photos of one face differ by up to ${limit.toFixed(1)}; ${tolerance.toFixed(1)} is agreed`}
    >
      <path class="axis" d="M0 22h320" />
      <rect class="noise" y="14" width={along(limit)} height="16" />
      <path class="agreed" d={`M${along(tolerance)} 8v28`} />
      <text x="0" y="44">
        0
      </text>
      <text x={along(tolerance)} y="44" text-anchor={agreedRight ? "end" : "middle"} dx={agreedRight ? 6 : 0}>
        {tolerance.toFixed(1)} agreed
      </text>
    </svg>
  );
};
