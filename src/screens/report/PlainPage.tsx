import type { PlainReport, PlainSection } from '../../reports/plain-report.ts';
import type { ReportedSet } from '../../reports/reported-set.ts';
import { ReportPicture } from './ReportPicture.tsx';
import { reportPictures } from './report-pictures.tsx';

interface Props {
  readonly report: PlainReport;
  readonly set: ReportedSet;
}

/** With more characters than this, the page is set smaller on paper. */
const MANY_CHARACTERS = 1800;

/** The first page: whole sentences, and two pictures at most, with how sure all of it is below them. */
export function PlainPage({ report, set }: Props) {
  const characters = report.sections.flatMap(({ words }) => words).join('').length;
  return (
    <article
      class={characters > MANY_CHARACTERS ? 'sheet sheet-plain sheet-long' : 'sheet sheet-plain'}
      aria-labelledby="report-plain-title"
    >
      <h2 id="report-plain-title">{report.title}</h2>
      <dl class="sheet-facts">
        {report.facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <div class="sheet-columns">
        <div class="sheet-words">
          {report.sections.slice(0, -1).map((section) => (
            <Section key={section.id} section={section} />
          ))}
        </div>
        <div class="sheet-pictures">
          {reportPictures(set).map((picture) => (
            <ReportPicture key={picture.title} picture={picture} />
          ))}
          <Section section={report.sections.at(-1)!} />
        </div>
      </div>
      <footer class="sheet-cautions">
        <h3>Please keep in mind</h3>
        <ul>
          {report.cautions.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      </footer>
    </article>
  );
}

function Section({ section: { title, words } }: { readonly section: PlainSection }) {
  return (
    <section>
      <h3>{title}</h3>
      {words.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </section>
  );
}
