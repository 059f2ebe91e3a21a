import { formatNumber } from "./number-format.js";

const secondsText = (seconds: number): string =>
  `${formatNumber(seconds, { digits: Number.isInteger(seconds) ? 0 : 1 })} s`;

/** A length of time as people say it: 45 s, 2 min 30 s, 1 h 5 min. */
export const shownDuration = (seconds: number): string => {
  if (seconds < 90) return secondsText(seconds);
  const whole = Math.round(seconds);
  if (whole < 3600) {
    const rest = whole % 60;
    return rest === 0 ? `${whole / 60} min` : `${Math.floor(whole / 60)} min ${rest} s`;
  }
  const minutes = Math.round(whole / 60);
  return minutes % 60 === 0
    ? `${minutes / 60} h`
    : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
};

/** A length of time in the least room: 45 s, 2:30, 1:05:00. */
export const shownClock = (seconds: number): string => {
  const whole = Math.round(seconds);
  if (whole < 60) return secondsText(seconds);
  const two = (part: number) => String(part).padStart(2, "0");
  const tail = two(whole % 60);
  return whole < 3600
    ? `${Math.floor(whole / 60)}:${tail}`
    : `${Math.floor(whole / 3600)}:${two(Math.floor(whole / 60) % 60)}:${tail}`;
};
