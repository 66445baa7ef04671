import { type Caution, cautions } from '../../../src/model';

/** Short cautions where the step happens. The wording lives in one place (src/model/cautions.ts). */
export function CautionNote({ topics }: { readonly topics: readonly Caution['topic'][] }) {
  const shown = cautions.filter((caution) => topics.includes(caution.topic));
  return (
    <section className="caution" aria-label="Cautions">
      <strong>Take care</strong>
      <ul>
        {shown.map((caution) => (
          <li key={caution.topic}>{caution.text}</li>
        ))}
      </ul>
    </section>
  );
}
