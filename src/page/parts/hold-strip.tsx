/** The mark of the house: four holds to scale, one of them done. It turns into the sign of work under way. */
export const HoldStrip = ({ class: name = "" }: Readonly<{ class?: string }>) => (
  <svg class={`strip-mark ${name}`} viewBox="0 0 42 14" aria-hidden="true">
    {[0, 1, 2, 3].map((hold) => (
      <rect key={hold} x={1 + hold * 10.5} y={1} width={8} height={12} />
    ))}
    <line x1={0} x2={42} y1={13.5} y2={13.5} />
  </svg>
);

/** Where an answer will stand: its headline and a strip, drawn as the empty form of both. */
export const Skeleton = () => (
  <div class="skeleton" aria-hidden="true">
    <span class="skeleton-line" />
    <span class="skeleton-line short" />
    <HoldStrip class="wide" />
  </div>
);
