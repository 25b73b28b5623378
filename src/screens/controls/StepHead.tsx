import { hashOf, type Route } from '../route.ts';
import './step-head.css';

interface Props {
  readonly back: Route;
  readonly backWords: string;
  readonly title: string;
}

/** Where the coach is on the way to the court, and the way back. */
export function StepHead({ back, backWords, title }: Props) {
  return (
    <header class="step-head">
      <a class="button" href={hashOf(back)}>
        <span aria-hidden="true">‹</span> {backWords}
      </a>
      <h1>{title}</h1>
    </header>
  );
}
