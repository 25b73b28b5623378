/** An implement that hangs from a peg and swings a little; the words beside it say the same. */
export function PendulumPicture() {
  return (
    <svg class="pendulum-picture" viewBox="0 0 96 120" aria-hidden="true">
      <line x1="20" y1="10" x2="76" y2="10" class="pendulum-beam" />
      {[-11, 11].map((angle) => (
        <g key={angle} transform={`rotate(${angle} 48 14)`} class="pendulum-ghost">
          <Implement />
        </g>
      ))}
      <Implement />
      <circle cx="48" cy="14" r="4" class="pendulum-peg" />
      <path d="M27 116 Q48 122 69 116" class="pendulum-arc" />
    </svg>
  );
}

function Implement() {
  return (
    <>
      <line x1="48" y1="10" x2="48" y2="72" class="pendulum-shaft" />
      <ellipse cx="48" cy="90" rx="13" ry="18" class="pendulum-head" />
    </>
  );
}
