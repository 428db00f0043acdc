/** Elapsed time in a running display, always with tenths below an hour: `43.2 s`, `2 min 05.3 s`, `1 h 02 min 05 s`. */
export function elapsedWords(seconds: number): string {
  if (seconds < 60) return `${(Math.floor(seconds * 10) / 10).toFixed(1)} s`;
  const tenths = Math.floor(seconds * 10);
  const minutes = Math.floor(tenths / 600);
  const rest = (tenths - minutes * 600) / 10;
  if (minutes < 60) return `${minutes} min ${rest.toFixed(1).padStart(4, "0")} s`;
  return `${Math.floor(minutes / 60)} h ${twoDigits(minutes % 60)} min ${twoDigits(Math.floor(rest))} s`;
}

/** A current in a running display: as many decimals as its size needs, never dropped, so that the figures stand still. */
export function liveAmpsWords(amps: number): string {
  const size = Math.abs(amps);
  return `${amps.toFixed(size < 10 ? 2 : size < 1000 ? 1 : 0)} A`;
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

function twoDigits(value: number): string {
  return String(value).padStart(2, "0");
}
