const plural = (count: number, one: string) => `${count} ${one}${count === 1 ? "" : "s"}`;

const span = (hours: number): string => {
  const whole = Math.floor(hours);
  if (whole < 1) return plural(Math.max(1, Math.floor(hours * 60)), "minute");
  if (whole < 48) return plural(whole, "hour");
  const days = Math.floor(whole / 24);
  const rest = whole % 24;
  return days >= 14 || rest === 0 ? plural(days, "day") : `${plural(days, "day")} ${plural(rest, "hour")}`;
};

/** "31 hours left", "4 days 3 hours left", or "shut 2 days ago". `hours` is negative after the deadline. */
export const timeLeft = (hours: number): string => (hours > 0 ? `${span(hours)} left` : `shut ${span(-hours)} ago`);

/** How pressing a window is: less than a day is "soon". */
export const urgency = (hours: number): "shut" | "soon" | "open" => {
  if (hours <= 0) return "shut";
  return hours < 24 ? "soon" : "open";
};

/** "Fri 6 Mar 2026, 17:00" in the delivery's time zone. `at` is ISO 8601 with offset. */
export const dateAndTime = (at: string, timeZone: string): string =>
  new Intl.DateTimeFormat("en-GB", {
    timeZone,
    weekday: "short",
    day: "numeric",
    month: "short",
    year: "numeric",
    hour: "2-digit",
    minute: "2-digit",
  })
    .format(new Date(at))
    .replace(/^(\w+),/, "$1");

/** "Fri 6, 17:00": for lists in which the month is plain. */
export const shortTime = (at: string, timeZone: string): string =>
  new Intl.DateTimeFormat("en-GB", {
    timeZone,
    weekday: "short",
    day: "numeric",
    month: "short",
    hour: "2-digit",
    minute: "2-digit",
  })
    .format(new Date(at))
    .replace(/^(\w+),/, "$1");

/** "at 10:42" for today, else "on Thu 5 Mar, 10:42", by the device's own clock and zone. */
export const lastRead = (at: string, now: Date): string => {
  const then = new Date(at);
  const clock = then.toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  if (then.toDateString() === now.toDateString()) return `at ${clock}`;
  return `on ${shortTime(at, Intl.DateTimeFormat().resolvedOptions().timeZone)}`;
};

/** This moment as ISO 8601 with the device's own offset, as the contract wants it. */
export const nowWithOffset = (now: Date): string => {
  const minutes = -now.getTimezoneOffset();
  const two = (value: number) => String(Math.floor(Math.abs(value))).padStart(2, "0");
  const local = new Date(now.getTime() + minutes * 60_000).toISOString().slice(0, 19);
  return `${local}${minutes < 0 ? "-" : "+"}${two(minutes / 60)}:${two(minutes % 60)}`;
};
