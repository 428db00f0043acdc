/** Rounds to `digits` significant digits without an exponent. */
function significant(value: number, digits: number): string {
  if (value === 0) return "0";
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value))));
  return value.toFixed(Math.min(decimals, 6));
}

/** A duration as a reader would say it: `0.043 s`, `43.2 s`, `242.1 s (4 min 2 s)`. */
export function secondsWords(seconds: number): string {
  if (seconds < 100) return `${significant(seconds, 3)} s`;
  const rounded = Math.round(seconds);
  return `${seconds.toFixed(1)} s (${splitWords(rounded)})`;
}

/** A round duration in few words, for axes and limits: `120 s`, `12 min`, `2 h`. */
export function limitWords(seconds: number): string {
  if (seconds >= 3600 && seconds % 1800 === 0) return `${seconds / 3600} h`;
  if (seconds > 120 && seconds % 60 === 0) return `${seconds / 60} min`;
  return `${Number(seconds.toPrecision(4))} s`;
}

/** Elapsed time in a running display: `43.2 s`, `2 min 05.3 s`, `1 h 02 min 05 s`. */
export function elapsedWords(seconds: number): string {
  if (seconds < 60) return `${seconds.toFixed(1)} s`;
  const tenths = Math.floor(seconds * 10);
  const minutes = Math.floor(tenths / 600);
  const rest = (tenths - minutes * 600) / 10;
  if (minutes < 60) return `${minutes} min ${rest.toFixed(1).padStart(4, "0")} s`;
  return `${Math.floor(minutes / 60)} h ${twoDigits(minutes % 60)} min ${twoDigits(Math.floor(rest))} s`;
}

/** Amperes with three significant digits, four from 100 A on: `8.43 A`, `40.2 A`, `202.1 A`. */
export function ampsWords(amps: number): string {
  return `${significant(amps, Math.abs(amps) >= 100 ? 4 : 3)} A`;
}

/** A rating as marked: `20 A`, never with noise digits. */
export function ratingWords(amps: number): string {
  return `${Number(amps.toPrecision(6))} A`;
}

/** A multiple of the rating in percent: `135 %`. */
export function percentWords(multiple: number): string {
  return `${Number((multiple * 100).toPrecision(4))} %`;
}

/** A temperature: `24.6 °C`. */
export function celsiusWords(celsius: number): string {
  return `${celsius.toFixed(1)} °C`;
}

/** A moment on the reader's own clock: `2026-03-09 14:05`. */
export function momentWords(iso: string): string {
  const date = new Date(iso);
  if (Number.isNaN(date.getTime())) return iso;
  const day = [date.getFullYear(), twoDigits(date.getMonth() + 1), twoDigits(date.getDate())].join("-");
  return `${day} ${twoDigits(date.getHours())}:${twoDigits(date.getMinutes())}`;
}

function splitWords(seconds: number): string {
  const hours = Math.floor(seconds / 3600);
  const minutes = Math.floor((seconds % 3600) / 60);
  const rest = seconds % 60;
  const pieces = [
    hours > 0 ? `${hours} h` : "",
    minutes > 0 ? `${minutes} min` : "",
    rest > 0 ? `${rest} s` : "",
  ];
  return pieces.filter((piece) => piece !== "").join(" ");
}

function twoDigits(value: number): string {
  return String(value).padStart(2, "0");
}
