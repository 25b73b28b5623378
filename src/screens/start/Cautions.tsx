/** Short, because a long list is not read; the README has the reasons. */
export function Cautions() {
  return (
    <section class="cautions">
      <h2>Before you start</h2>
      <ul>
        <li>Two arm-and-racket lengths clear around the player. Nobody walks in during a swing.</li>
        <li>Check every fastening before each block. A sensor that comes off flies.</li>
        <li>Stop on pain. Straps snug, never tight; look at the skin when you take them off.</li>
        <li>No damaged, wet or hot battery on a child.</li>
        <li>Your local safeguarding rules and the governing body's equipment rules come first.</li>
        <li>Made-up names only. This is not a medical device.</li>
      </ul>
    </section>
  );
}
