import { useEffect, useState } from "preact/hooks";

/** Whole seconds since `running` became true; 0 while it is not. */
export function useElapsed(running: boolean): number {
  const [seconds, setSeconds] = useState(0);
  useEffect(() => {
    setSeconds(0);
    if (!running) return;
    const timer = setInterval(() => setSeconds((before) => before + 1), 1000);
    return () => clearInterval(timer);
  }, [running]);
  return seconds;
}
