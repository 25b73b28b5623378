/** Short, because a long list is not read; the README has the reasons. */
export function Cautions() {
  return (
    <section class="cautions">
      <h2>Before you start</h2>
      <ul>
        <li>Keep well clear of a swinging player.</li>
        <li>Check every fastening before each block.</li>
        <li>Stop on pain. Look at the skin under the straps.</li>
        <li>No damaged, wet or hot battery on a child.</li>
        <li>Local safeguarding and the governing body's equipment rules come first.</li>
        <li>Made-up names only. Not a medical device.</li>
      </ul>
    </section>
  );
}
