import { useEffect, useRef } from "preact/hooks";

/** What every chart of this page can do. */
interface Chart {
  resize(width: number, height: number): void;
  destroy(): void;
}

/** Holds a chart: makes it once, keeps it at the size of its place, and ends it. `words` say what the picture shows. */
export function ChartHost<C extends Chart>({
  make,
  onReady,
  words,
}: {
  make: (host: HTMLElement) => C;
  onReady: (chart: C) => void;
  words: string;
}) {
  const host = useRef<HTMLDivElement>(null);
  const ready = useRef(onReady);
  ready.current = onReady;

  // A chart is made once in its place
  useEffect(() => {
    const element = host.current;
    if (element === null) return;
    const chart = make(element);
    const fitToPlace = () =>
      chart.resize(Math.max(element.clientWidth, 100), Math.max(element.clientHeight, 80));
    const observer = new ResizeObserver(fitToPlace);
    observer.observe(element);
    fitToPlace();
    ready.current(chart);
    return () => {
      observer.disconnect();
      chart.destroy();
    };
  }, []);

  return <div class="chart" ref={host} role="img" aria-label={words} />;
}
