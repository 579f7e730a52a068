/** A line of colour differences: how far photos of one face differ, and what is agreed. */
export const LimitScale = (props: { limit: number; tolerance: number }) => {
  const { limit, tolerance } = props;
  const whole = 1.25 * Math.max(limit, tolerance);
  const along = (deltaE: number) => (320 * deltaE) / whole;
  const agreedRight = tolerance > 0.75 * whole;
  return (
    <svg
      class="limit-scale"
      viewBox="0 0 320 40"
      role="img"
      aria-label={`Photos of one face differ by up to ${limit.toFixed(1)}; ${tolerance.toFixed(1)} is agreed`}
    >
      <path class="axis" d="M0 14h320" />
      <rect class="noise" y="6" width={along(limit)} height="16" />
      <path class="agreed" d={`M${along(tolerance)} 2v22`} />
      <text x="0" y="38">
        0
      </text>
      <text x={along(tolerance)} y="38" text-anchor={agreedRight ? "end" : "middle"} dx={agreedRight ? 6 : 0}>
        {tolerance.toFixed(1)} agreed
      </text>
    </svg>
  );
};
