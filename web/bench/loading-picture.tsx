import type { Loading } from "../../src/core/specimen/specimen.ts";
import { leadsWords } from "../words/state-words.ts";

const poleWidth = 34;
const gap = 8;
const top = 26;
const bottom = 92;

/** Small picture of a breaker with the leads where they belong: on one pole, or through all poles one after another. */
export function LoadingPicture({ poles, loading }: { poles: number; loading: Loading }) {
  const middle = (pole: number) => gap + pole * (poleWidth + gap) + poleWidth / 2;
  const all = Array.from({ length: poles }, (_, pole) => pole);
  const loaded = (pole: number) => loading === "all" || loading === `pole-${pole + 1}`;
  const width = poles * (poleWidth + gap) + gap;
  return (
    <svg
      class="loading-picture"
      viewBox={`0 0 ${width} 118`}
      role="img"
      aria-label={leadsWords(loading, poles)}
    >
      {all.map((pole) => (
        <g key={pole} class={loaded(pole) ? "pole pole-loaded" : "pole"}>
          <rect x={middle(pole) - poleWidth / 2} y={top} width={poleWidth} height={bottom - top} rx="3" />
          <rect class="handle" x={middle(pole) - 5} y="44" width="10" height="18" rx="2" />
          <text x={middle(pole)} y="77">
            {pole + 1}
          </text>
        </g>
      ))}
      <path class="lead" d={leadPath(loading, poles, middle)} />
      {all.filter(loaded).map((pole) => (
        <g key={pole} class="terminal">
          <circle cx={middle(pole)} cy={top + 6} r="4" />
          <circle cx={middle(pole)} cy={bottom - 6} r="4" />
        </g>
      ))}
    </svg>
  );
}

/** In at the first loaded pole's line side; between poles the bridges lie by turns on the load side and on the line side. */
function leadPath(loading: Loading, poles: number, middle: (pole: number) => number): string {
  const first = loading === "all" ? 0 : Number(loading.slice(-1)) - 1;
  const last = loading === "all" ? poles - 1 : first;
  let path = `M${middle(first)} 2V${top + 6}`;
  let below = true;
  path += `M${middle(first)} ${bottom - 6}`;
  for (let pole = first; pole < last; pole++) {
    const bow = below ? 112 : 6;
    path += `V${bow}H${middle(pole + 1)}V${below ? bottom - 6 : top + 6}`;
    below = !below;
    path += `M${middle(pole + 1)} ${below ? bottom - 6 : top + 6}`;
  }
  return `${path}V${below ? 116 : 2}`;
}
