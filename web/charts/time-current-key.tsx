/** That a limit is published for single currents only. */
export function LimitNote() {
  return (
    <p class="limit-note">Limits hold at the marked currents; the shading between only guides the eye.</p>
  );
}

/** What the marks of the time-current chart mean. */
export function TimeCurrentKey() {
  return (
    <ul class="key" aria-label="Marks">
      <li>
        <svg viewBox="0 0 16 20" aria-hidden="true" focusable="false">
          <circle class="solid" cx="8" cy="12" r="4.5" />
        </svg>
        tripped
      </li>
      <li>
        <svg viewBox="0 0 16 20" aria-hidden="true" focusable="false">
          <circle cx="8" cy="14" r="4.5" />
          <path d="M8 9.500V1M4.500 4.500 8 1l3.500 3.500" />
        </svg>
        held
      </li>
      <li>
        <svg viewBox="0 0 16 20" aria-hidden="true" focusable="false">
          <path d="M8 9 13 14 8 19 3 14zM8 9V1M4.500 4.500 8 1l3.500 3.500" />
        </svg>
        interrupted
      </li>
    </ul>
  );
}
